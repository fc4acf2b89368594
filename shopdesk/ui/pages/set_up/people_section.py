"""Who works here: names, roles, skills, and what an hour of each costs, which only the owner sees."""

import datetime as dt
from typing import Any

from PySide6.QtCore import Qt

from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, Role
from shopdesk.services.logins import Account, give_login
from shopdesk.services.seat import Seat
from shopdesk.services.shops import (
    StaffDraft,
    StaffRow,
    WageRow,
    keep_staff,
    keep_wage,
    staff,
    wages,
)
from shopdesk.services.signing_in import set_passphrase
from shopdesk.ui.pages.set_up.draft import roles, skills
from shopdesk.ui.pages.set_up.own_fields import TicksField
from shopdesk.ui.pages.set_up.section import SetUpSection, add_from_day, holder
from shopdesk.ui.sign_in import PassphraseField
from shopdesk.ui.widgets.boxes import STRETCH, Part, emptied, level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region, say, say_problem


class PeopleSection(SetUpSection):
    """The list, and under it the person chosen or a new one."""

    key = "people"

    def __init__(self, page: Any) -> None:
        self.title = say("People")
        self._people: dict[int, StaffRow] = {}
        self._shown: int | None = None
        self._read: Seen | None = None
        self._wages: list[WageRow] = []
        self._wanted: int | None = None
        super().__init__(page)
        self._show_person(None)

    def build(self) -> list[Part]:
        self.list = StripList(say("People who work here"), empty=say("People will stand here."), most=6)
        self.list.chosen.connect(self._choose)
        self.new_button = Button(say("New &person"), self.begin_new, icon_name="add")
        self.heading = Heading("")
        self._form_box = upright()
        self.form = Form()
        self.wage_list = StripList(say("What an hour costs the shop"), most=4,
                                   empty=say("What an hour costs the shop will stand here."))  # fmt: skip
        self.wage_form = self._make_wage_form()
        self.wages = holder([Heading(say("What an hour costs the shop")),
                             Words(say("Only the owner sees this; it never prints."), "body", "muted"),
                             self.wage_list, self.wage_form])  # fmt: skip
        self.pass_form = self._make_pass_form()
        self.passphrase = holder([Heading(say("Passphrase")),
                                  Words(say("Once anybody has one, the window asks who is there when it "
                                            "opens and after it was left alone."), "body", "muted"),
                                  self.pass_form])  # fmt: skip
        self.login_told = Words()
        self.login_told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByKeyboard
                                                | Qt.TextInteractionFlag.TextSelectableByMouse)  # fmt: skip
        self.login_button = Button(say("&Give an account at the server"), self._give_login)
        self.login = holder([Heading(say("Account at the server")),
                             Words(say("With it this person opens the shop from another machine, and "
                                       "the server lets it do no more than this role may."), "body", "muted"),
                             level([self.login_button, STRETCH]), self.login_told])  # fmt: skip
        return [self.list, level([self.new_button, STRETCH]), self.heading, self._form_box,
                self.passphrase, self.login, self.wages]  # fmt: skip

    def ask(self) -> None:
        self.page.ask(lambda seat: staff(seat, everyone=True), self._show, key="staff")
        if self.context.may(Action.SEE_COSTS):
            self.page.ask(wages, self._keep_wages, key="wages")

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def begin_new(self) -> None:
        self.list.view.setCurrentIndex(self.list.model.index(-1, -1))
        self._show_person(None)
        self.form.focusFirst()

    def _show(self, rows: list[StaffRow]) -> None:
        self._people, self._read = {row.id: row for row in rows}, self.context.reading
        words = dict(skills(self.context.seat.catalogue))
        self.list.show_rows([_strip(row, words) for row in rows])
        if self._wanted is not None and self.list.select(self._wanted):
            self._wanted = None
        elif self._shown is None and rows and not self._typed():
            self.list.select(rows[0].id)

    def _typed(self) -> bool:
        return bool(self.context.drafts.kept("set-up/person/new"))

    def _keep_wages(self, rows: list[WageRow]) -> None:
        self._wages = rows
        self._show_wages()

    def _choose(self, key: Any) -> None:
        if key is not None and key != self._shown:
            self._show_person(self._people.get(int(key)))

    def _show_person(self, row: StaffRow | None) -> None:
        self._shown = row.id if row else None
        emptied(self._form_box)
        self.form = self._make_form(row)
        self._form_box.addWidget(self.form)
        self.heading.setText(row.name if row else say("New person"))
        self.passphrase.setVisible(row is not None)
        self.login_told.setText("")
        self.login.setVisible(row is not None and not self.context.seat.file.is_file)
        self.wages.setVisible(row is not None and self.context.may(Action.SEE_COSTS))
        self._show_wages()

    def _make_form(self, row: StaffRow | None) -> Form:
        form = Form(columns=self.columns)
        form.add("name", say("&Name"), TextField(row.name if row else ""),
                 required=say("Someone who works here needs a name."))  # fmt: skip
        form.add("initials", say("&Initials"), TextField(row.initials if row else ""),
                 note=say("Left empty, they follow the name."))  # fmt: skip
        form.add("role", say("&Role"), ChoiceField(roles(), row.role if row else Role.TECHNICIAN), wide=True)
        form.add("skills", say("&Skills"), TicksField(skills(self.context.seat.catalogue)), wide=True,
                 note=say("None ticked: everything.")).setValue(row.skills if row else ())  # fmt: skip
        form.add("active", "", TickField(say("&Works here now"), row.active if row else True))
        form.on_save(say("&Keep it"), self._save, icon_name="tick")
        form.remember(self.context.drafts, f"set-up/person/{row.id if row else 'new'}")
        form.read_from(self._read if row else None)
        return form

    def _save(self, values: dict[str, Any]) -> None:
        key = self._shown
        draft = StaffDraft(
            values["name"], values["role"], values["initials"], values["skills"], values["active"]
        )

        def kept(staff_id: int) -> None:
            self._wanted = staff_id
            if key is None:
                self._show_person(None)

        self.keep(
            self.form, lambda seat: keep_staff(seat, draft, key), say("{name} is kept.", name=draft.name),
            topics=["staff", "settings"], then=kept,
        )  # fmt: skip

    def _make_pass_form(self) -> Form:
        form = Form(columns=self.columns)
        form.add("passphrase", say("New passp&hrase"), PassphraseField(), note=say("Empty: none."))
        form.add("again", say("The same a&gain"), PassphraseField())
        form.on_save(say("Set the passphrase"), self._set_passphrase)
        return form

    def _set_passphrase(self, values: dict[str, Any]) -> None:
        key, passphrase = self._shown, values["passphrase"]
        if key is None:
            return
        if passphrase != values["again"]:
            self.pass_form.show_problem(
                Problem("The two are not the same. Type both once more.", field="again")
            )
            return

        def clear(_nothing: None) -> None:
            for name in ("passphrase", "again"):
                self.pass_form[name].clear()

        self.keep(self.pass_form, lambda seat: set_passphrase(seat, key, passphrase),
                  say("The passphrase is set."), topics=["staff"], then=clear)  # fmt: skip

    def _give_login(self) -> None:
        """An account, or a new password for it; shown this once."""
        key = self._shown
        if key is None:
            return

        def shown(account: Account) -> None:
            self.login_told.setText(
                say("Name: {name}\nPassword: {password}\nAddress: {address}\n"
                    "The password is shown this once and kept nowhere.",
                    name=account.name, password=account.password, address=account.address)
            )  # fmt: skip

        self.page.do(
            lambda seat: give_login(seat, key), shown,
            lambda problem: self.login_told.setText(say_problem(problem)), changes=["staff"],
        )  # fmt: skip

    def _make_wage_form(self) -> Form:
        form = Form(columns=self.columns)
        form.add("cost", say("An &hour costs"), MoneyField(self.context.region),
                 required=say("Write what an hour costs."))  # fmt: skip
        add_from_day(form, self.context)
        form.on_save(say("Keep the c&ost"), self._save_wage)
        return form

    def _save_wage(self, values: dict[str, Any]) -> None:
        key = self._shown
        if key is None:
            return
        day: dt.date = values["from_day"]

        def keep(seat: Seat) -> None:
            keep_wage(seat, key, day, values["cost"])

        self.keep(self.wage_form, keep, say("The cost of an hour is kept."), topics=["staff", "settings"])

    def _show_wages(self) -> None:
        region = self.context.region
        mine = sorted((w for w in self._wages if w.staff_id == self._shown), key=lambda w: w.from_day)
        self.wage_list.show_rows(
            [_wage_strip(region, self.context.seat.today, w, mine) for w in reversed(mine)]
        )


def _strip(row: StaffRow, words: dict[str, str]) -> Strip:
    role = {Role.OWNER: say("owner"), Role.TECHNICIAN: say("technician"), Role.DESK: say("desk")}[row.role]
    second = ", ".join(words.get(skill, skill) for skill in row.skills) or say("all skills")
    return Strip(row.id, row.name, second, role, "" if row.active else say("no longer here"))


def _wage_strip(region: Region, today: dt.date, row: WageRow, mine: list[WageRow]) -> Strip:
    in_force = max((w.from_day for w in mine if w.from_day <= today), default=None)
    below = say("counts now") if row.from_day == in_force else ""
    amount = say("{amount} an hour", amount=region.money(row.cost_cents_per_hour))
    return Strip(row.from_day, amount, say("from {day}", day=region.day(row.from_day)), below)
