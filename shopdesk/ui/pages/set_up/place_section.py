"""Where the shop lies: in a file of this machine, or on a server for several seats; and moving it."""

from typing import Any
from urllib.parse import quote

from shopdesk.domain.problem import Problem
from shopdesk.services.moving_places import Tried, try_server
from shopdesk.ui.dialogs import SHOPS
from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.sign_in import PassphraseField
from shopdesk.ui.widgets.boxes import STRETCH, Part, level
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.wording import say


class PlaceSection(SetUpSection):
    """The address is typed and tried; the move closes the shop, and opens it where it lies then."""

    key = "place"

    def __init__(self, page: Any) -> None:
        self.title = say("Where the shop lies")
        super().__init__(page)

    def build(self) -> list[Part]:
        file = self.context.seat.file
        self.form = Form()
        self.told = Words()
        if file.is_file:
            return self._to_server(file.url.database or "")
        machine, database = file.url.host or "", file.url.database or ""
        self.back_button = Button(say("Move it into a &file…"), self._move_to_file, icon_name="box")
        return [
            Words(say("This shop is the database {name} on the server {machine}.", name=database,
                      machine=machine)),
            Words(say("In a file one program at a time writes. Everybody else leaves the shop first: what "
                      "they write while it moves would stay behind."), "body", "muted"),
            level([self.back_button, STRETCH]), self.told,
        ]  # fmt: skip

    def _to_server(self, path: str) -> list[Part]:
        self.form.add(
            "address", say("&Address of an empty database"), TextField(), wide=True,
            required=say("Write the address of the server."),
            note=say("postgresql://name@machine/database, as whoever looks after the server gives it."),
        )  # fmt: skip
        self.form.add("password", say("&Password at the server"), PassphraseField(),
                      note=say("Of the name in the address. It is kept nowhere."))  # fmt: skip
        self.form.on_save(say("&Try the server"), self._try)
        self.move_button = Button(say("&Move the shop there"), self._move_to_server, icon_name="box")
        self.move_button.hide()
        self._address = ""
        self.form["address"].edited.connect(self.move_button.hide)
        self.form["password"].edited.connect(self.move_button.hide)
        return [
            Words(say("This shop is the file {path}.", path=path)),
            Words(say("With several seats the shop lies on a PostgreSQL server, and everybody opens it "
                      "there. Every row is copied and compared; then this file can be looked at only and "
                      "says where the shop went. It can move back in the same way."), "body", "muted"),
            Heading(say("Move it to a server")), self.form, self.told,
            level([self.move_button, STRETCH]),
        ]  # fmt: skip

    def focusFirst(self) -> None:
        if self.context.seat.file.is_file:
            self.form.focusFirst()
        else:
            self.back_button.setFocus()

    def _try(self, values: dict[str, Any]) -> None:
        address = with_password(values["address"].strip(), values["password"])
        self.told.setText(say("Trying the server…"))

        def answered(tried: Tried) -> None:
            self._address = address
            accounts = (
                say("People can get accounts of their own, under People.")
                if tried.makes_accounts
                else say("This account may make no accounts for others; everybody would come by this one.")
            )
            answers = say("The server answers: PostgreSQL {version}, and the database {name} is empty.",
                          version=tried.version, name=tried.database)  # fmt: skip
            self.told.setText(f"{answers} {accounts}")
            self.move_button.show()
            self.move_button.setFocus()

        def refused(problem: Problem) -> None:
            self.told.setText("")
            self.form.show_problem(problem)

        self.page.ask(lambda seat: try_server(seat, address), answered, refused, key="try server")

    def _move_to_server(self) -> None:
        sure = self.context.dialogs.confirm(
            say("Move the shop"),
            say("The shop closes, moves, and opens again at the server. The file stays, to be looked at."),
            say("Move it"),
        )
        if sure:
            self.context.moveAsked.emit(self._address)

    def _move_to_file(self) -> None:
        path = self.context.dialogs.save_file(
            say("Move the shop into"), f"{self.context.seat.file.name}.db", say("Shops"), SHOPS
        )
        if path is not None:
            self.context.moveAsked.emit(str(path))


def with_password(address: str, password: str) -> str:
    """The password put into an address that bears a name and none; as it is otherwise."""
    scheme, slashes, rest = address.partition("://")
    name, at, machine = rest.rpartition("@")
    if not password or not slashes or not at or ":" in name:
        return address
    return f"{scheme}://{name}:{quote(password, safe='')}@{machine}"
