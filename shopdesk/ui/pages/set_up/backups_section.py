"""Copies of the shop, and whether it is whole; both are looked at in the background."""

from pathlib import Path
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services.backups import back_up
from shopdesk.services.checking import faults
from shopdesk.services.keeping_copies import Copy, copies, restore
from shopdesk.services.settings import Copies
from shopdesk.services.shops import keep_setting, setting
from shopdesk.ui.dialogs import SHOPS
from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.widgets.boxes import STRETCH, Part, level
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.fields import CountField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, ProblemText, Words
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region, say, say_n, say_problem

_MOST_FAULTS = 20
_MOST_MINUTES = 24 * 60


class BackupsSection(SetUpSection):
    """Says what was copied where, and every fault in a sentence."""

    key = "backups"

    def __init__(self, page: Any) -> None:
        self.title = say("Backups")
        super().__init__(page)

    def build(self) -> list[Part]:
        self.where = Words("", "body", "muted")
        self.copy_button = MainButton(say("&Copy the shop now"), self.copy, icon_name="box")
        self.copied = Words()
        self.copy_problem = ProblemText()
        self.check_button = Button(say("Chec&k the shop now"), self.check, icon_name="proof")
        self.checked = Words()
        self.found = ProblemText()
        copying = say(
            "A copy holds everything: records, photographs and issued papers. Keep copies on another disk, "
            "and never copy the file while the program is open except from here."
        )
        checking = say("Looks at the file, the journal, every paper and photograph, sums and numbers.")
        self.form = Form(columns=self.columns)
        self.form.add("folder", say("&Folder of the copies"), TextField(), wide=True,
                      note=say("Empty: a folder beside the shop."))  # fmt: skip
        self.form.add("second_folder", say("&Second folder"), TextField(), wide=True,
                      note=say("On another disk. Empty: none."))  # fmt: skip
        self.form.add("every_minutes", say("While the shop changes, every so many &minutes"),
                      CountField(0, _MOST_MINUTES), note=say("0: only when the shop closes."))  # fmt: skip
        self.form.on_save(say("&Keep it"), self.save, icon_name="tick")
        self.form.remember(self.context.drafts, "set-up/copies")
        self.list = StripList(
            say("Copies"), empty=say("The copies that make themselves will stand here."), lines=1, most=6
        )
        self.back_button = Button(say("Bring the chosen one &back as a new file"), self.bring_back)
        by_itself = say(
            "The shop copies itself when it closes and while it changes. Old copies thin out: all of two "
            "days, one a day for a month, one a week for half a year, then one a month."
        )
        return [
            Words(by_itself), self.form, self.list, level([self.back_button, STRETCH]),
            Heading(say("A copy now")), self.where, Words(copying), level([self.copy_button, STRETCH]),
            self.copied, self.copy_problem,
            Heading(say("Is the shop whole?")), Words(checking), level([self.check_button, STRETCH]),
            self.checked, self.found,
        ]  # fmt: skip

    def ask(self) -> None:
        file = self.context.seat.file
        here = say("This shop is the file {path}.", path=file.url.database or "")
        there = say("This shop is on a database server.")
        self.where.setText(here if file.is_file else there)
        self.page.ask(lambda seat: (setting(seat, Copies), copies(seat)), self._show_copies, key="copies")

    def save(self, values: dict[str, Any]) -> None:
        """Keeps where copies go and how often."""
        kept = Copies(**values)
        self.keep(self.form, lambda seat: keep_setting(seat, kept), say("The copies are set."))

    def bring_back(self) -> None:
        """The chosen copy as a new shop file; the open shop stays as it is."""
        chosen = self.list.current()
        if chosen is None:
            self.copied.setText(say("Choose a copy in the list first."))
            return
        path: Path = chosen.key
        to = self.context.dialogs.save_file(
            say("Bring the copy back as"), f"{path.stem} back.db", say("Shops"), SHOPS
        )
        if to is not None:
            told = say("The copy is back as {path}. Open that shop to look at it.", path=str(to))
            self.page.ask(lambda _seat: restore(path, to), lambda _nothing: self.copied.setText(told),
                          lambda problem: self.copy_problem.show_text(say_problem(problem)))  # fmt: skip

    def _show_copies(self, known: tuple[Copies, tuple[Copy, ...]]) -> None:
        kept, made = known
        if not self.context.drafts.kept("set-up/copies"):
            self.form.show_values(
                {name: getattr(kept, name) for name in ("folder", "second_folder", "every_minutes")}
            )
        region = self.context.region
        self.list.show_rows(
            [Strip(copy.path, region.instant(copy.at), right=megabytes(region, copy.size)) for copy in made]
        )

    def focusFirst(self) -> None:
        self.copy_button.setFocus()

    def copy(self) -> None:
        """Asks where to, and copies; the dialog has asked before a file is replaced."""
        seat = self.context.seat
        suggested = f"{Path(seat.file.name).stem} {seat.today.isoformat()}.db"
        path = self.context.dialogs.save_file(say("Copy the shop to"), suggested, say("Shops"), SHOPS)
        if path is None or self._busy:
            return
        self._busy = True
        self.copied.setText(say("Copying…"))
        self.copy_problem.show_text("")

        def done(size: int) -> None:
            self._busy = False
            text = say("The shop is copied to {path}, {size}, and the copy is whole.", path=str(path),
                       size=megabytes(self.context.region, size))  # fmt: skip
            self.copied.setText(text)

        def refused(problem: Problem) -> None:
            self._busy = False
            self.copied.setText("")
            self.copy_problem.show_text(say_problem(problem))

        self.page.ask(lambda seat: back_up(seat, path, replace=True), done, refused)

    def check(self) -> None:
        self.checked.setText(say("Checking… You can go on working."))
        self.found.show_text("")
        self.page.ask(faults, self._show_faults, key="check")

    def _show_faults(self, found: list[str]) -> None:
        if not found:
            self.checked.setText(say("The shop is whole: no fault was found."))
            return
        self.checked.setText(
            say_n("{count} fault was found. Make no copies over older ones; ask whoever looks after this "
                  "program.",
                  "{count} faults were found. Make no copies over older ones; ask whoever looks after this "
                  "program.", len(found))
        )  # fmt: skip
        more = len(found) - _MOST_FAULTS
        told = [*found[:_MOST_FAULTS], *([say("And {count} more.", count=more)] if more > 0 else [])]
        self.found.show_text("\n".join(told))


def megabytes(region: Region, size: int) -> str:
    """A file's size as people read it."""
    return say("{size} MB", size=region.number(size / 1_000_000, "#,##0.0"))
