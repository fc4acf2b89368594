"""Wants: parts looked for over all ranges, with where they may be had."""

from typing import Any

from shopdesk.services import wants
from shopdesk.services.wants import Match, OnOffer, WantDraft, WantRow
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.widgets.fields import CountField, MoneyField, TextField
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say


class WantsSection(Section):
    """The matches of the current want stand beside it; above the list, ranges on offer worth a call."""

    topics: Topics = frozenset({"everything", "stores", "jobs", "ranges", "settings", "walks"})

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.list = ListTable(
            say("Wants"), self._columns(), key=lambda row: row.id,
            empty=say("Parts that are looked for will stand here, over all ranges."),
            first=(say("Look for a part"), self.add), memory=self.context.memory, remembered="stores/wants",
        )  # fmt: skip
        self.matches = ListTable(
            say("Where it may be had"), self._match_columns(), key=lambda row: (row.kind, row.key, row.what),
            empty=say("Nothing here or on offer is called that."), memory=self.context.memory,
            remembered="stores/matches",
        )  # fmt: skip
        self.matches.setMinimumHeight(7 * self.fontMetrics().height())
        self.list.opened.connect(lambda _key: self.matches.focusFirst())
        self.matches.opened.connect(lambda _key: self.go_there())
        self.offers = Words("")
        self.offers.setWordWrap(True)
        self.offers.hide()
        self.there_button, self.end_button, _ = self.add_deeds(
            [
                (say("Go there"), "G", self.go_there, "next"),
                (say("Found, or given up"), "X", self.end, "tick"),
                (say("Look for a part"), "A", self.add, "add"),
            ]
        )
        self.side.buttons.insertWidget(0, self.matches)
        self.assemble("wants", self.offers, shares=(1, 1))
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        def show(found: tuple[list[WantRow], list[OnOffer]]) -> None:
            rows, offers = found
            self.offers.setText("\n".join(self._offer_words(offer) for offer in offers[:3]))
            self.offers.setVisible(bool(offers))
            self.show_list(rows)

        self.page.ask(lambda seat: (wants.wants(seat), wants.on_offer(seat)), show, key="wants")

    def show_current(self) -> None:
        want: WantRow | None = self.list.current()
        self.matches.setVisible(want is not None)
        self.there_button.setVisible(want is not None and bool(want.matches))
        self.end_button.setVisible(want is not None)
        if want is None:
            self.side.say(say("Wants"), say("Choose a want to see where it may be had."))
            return
        self.matches.show_rows(want.matches)
        name = " ".join(word for word in (want.maker, want.model) if word)
        parts = [say("For {whom}.", whom=want.for_whom)] if want.for_whom else []
        if name:
            parts.append(say("Off a {range}, if it can be.", range=name))
        if want.worth_cents:
            parts.append(say("Worth {money} to us.", money=self.context.region.money(want.worth_cents)))
        if want.note:
            parts.append(want.note)
        self.side.say(want.name, " ".join(parts))

    def go_there(self) -> None:
        """To the part, the donor or the range on offer."""
        want: WantRow | None = self.list.current()
        match: Match | None = self.matches.current() or (want.matches[0] if want and want.matches else None)
        if match is None:
            return
        if match.kind == "shelf":
            self.context.go("stores", part_id=match.key)
        elif match.kind == "donor":
            self.context.go("stores", section="donors")
        else:
            self.context.open_jacket(match.key)

    def add(self) -> None:
        def keep(values: dict[str, Any]) -> None:
            draft = WantDraft(**{**values, "worth_cents": values["worth_cents"] or 0})
            self.save(lambda seat: wants.look_for(seat, draft),
                      say("{name} is on the list of wants.", name=draft.name))  # fmt: skip

        form = SmallForm(say("Look for a part"), say("Put it on the list"), keep, self.close_form, columns=2)
        add = form.form.add
        add("name", say("Part"), TextField(), required=say("Say which part is looked for."), wide=True)
        add("maker", say("Of maker"), TextField())
        add("model", say("Model"), TextField())
        add("quantity", say("How many"), CountField(1))
        add("worth_cents", say("What one is worth to us"), MoneyField(self.context.region))
        add("note", say("How to know it"), TextField(), wide=True)
        self.side.open_form(form.ready())

    def end(self) -> None:
        want: WantRow | None = self.list.current()
        if want is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(lambda seat: wants.end_want(seat, want.id, values["because"]),
                      say("{name} is off the list of wants.", name=want.name))  # fmt: skip

        form = SmallForm(want.name, say("Take it off the list"), keep, self.close_form)
        form.form.add("because", say("Found where, or why given up"), TextField(),
                      required=say("Say whether it was found, or why it is given up."))  # fmt: skip
        self.side.open_form(form.ready())

    def _offer_words(self, offer: OnOffer) -> str:
        money = self.context.region.money
        return say("{number} on offer: {wanted} on it. Its parts bring {parts}, our wants {more} more.",
                   number=offer.number, wanted=", ".join(offer.wanted), parts=money(offer.parts_cents),
                   more=money(offer.more_cents))  # fmt: skip

    def _columns(self) -> list[Column]:
        region, seat = self.context.region, self.context.seat
        return [
            Column("name", say("Part"), lambda r: r.name, width=24, strong=True, stretch=True,
                   sort=lambda r: r.name),
            Column("where", say("May be had"), _where, width=13),
            Column("whom", say("For"), lambda r: r.for_whom, width=8, sort=lambda r: r.for_whom or None),
            Column("promised", say("Promised"),
                   lambda r: region.day_short(r.promised_on, seat.today) if r.promised_on else "", width=9,
                   sort=lambda r: r.promised_on),
            Column("worth", say("Worth to us"),
                   lambda r: region.money(r.worth_cents) if r.worth_cents else "",
                   width=11, figures=True, sort=lambda r: r.worth_cents),
        ]  # fmt: skip

    def _match_columns(self) -> list[Column]:
        return [
            Column("kind", say("On"), lambda r: _kinds()[r.kind], width=12),
            Column("where", say("Where"), lambda r: r.where, width=9),
            Column("what", say("Called"), lambda r: r.what, width=18, stretch=True),
            Column("fit", say("Fits"), lambda r: say(r.fit.value), width=9),
        ]


def _kinds() -> dict[str, str]:
    return {"shelf": say("the shelf"), "donor": say("a donor"), "offer": say("a range on offer")}


def _where(row: WantRow) -> str:
    return ", ".join(dict.fromkeys(match.where for match in row.matches)) or say("nowhere yet")
