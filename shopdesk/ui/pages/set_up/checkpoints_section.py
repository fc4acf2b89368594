"""Checkpoints as this shop asks them: left out, reworded, put elsewhere, or added by the shop itself."""

from dataclasses import dataclass
from typing import Any

from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Finding
from shopdesk.domain.changed import Seen
from shopdesk.domain.folding import fold
from shopdesk.services.catalogue_changes import (
    OwnCheckpoint,
    add_checkpoint,
    change_checkpoint,
    change_finding,
    changes,
    move_checkpoint,
    shipped_catalogue,
)
from shopdesk.services.seat import Seat
from shopdesk.services.settings import CatalogueChanges
from shopdesk.ui.pages.set_up.findings_part import FindingsPart
from shopdesk.ui.pages.set_up.own_checkpoint import own_checkpoint_form
from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.widgets.boxes import Part, emptied, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import NoteField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

_WORDS = ("name", "tell", "sound", "why")
_CLEARED = 2  # a checkpoint of this safety or more is to be cleared before a release


@dataclass(frozen=True, slots=True)
class Own:
    """The shipped catalogue and what this shop changed in it."""

    shipped: Catalogue
    changes: CatalogueChanges
    now: Catalogue

    @property
    def all(self) -> list[Checkpoint]:
        """In the shop's own order: the shipped ones as shipped, and those of its own."""
        return [self.shipped.checkpoints.get(code, own) for code, own in self.now.checkpoints.items()]

    def one(self, code: str) -> Checkpoint:
        return self.shipped.checkpoints.get(code) or self.now.checkpoints[code]

    def asked(self, code: str) -> bool:
        return code not in self.changes.catalogue.get("off", ())

    def words(self, code: str) -> dict[str, str]:
        return dict(self.changes.catalogue.get("reword", {}).get(code, {}))


class CheckpointsSection(SetUpSection):
    """A list to search in, and the form of the chosen checkpoint."""

    key = "checkpoints"

    def __init__(self, page: Any) -> None:
        self.title = say("Catalogue: checkpoints")
        self._own: Own | None = None
        self._read: Seen | None = None
        self._shown = ""
        self.form: Form | None = None
        super().__init__(page)

    def build(self) -> list[Part]:
        self.list = StripList(say("Checkpoints"), empty=say("No checkpoint is like that."), most=7)
        self.list.chosen.connect(self._choose)
        self.list.opened.connect(lambda _key: self._go_to_form())
        self.search = SearchField(say("Words of a checkpoint, or its zone"), self.list)
        self.search.searched.connect(lambda _words: self._show_list())
        self.heading = Heading("")
        self.heading.setWordWrap(True)
        self.safety = Words("", "body", "hold")
        self._form_box = upright()
        self._own_box = upright()
        self.own_form: Form | None = None
        self.findings = FindingsPart(self._keep_finding)
        self.earlier = Button(say("Ask it earlier"), lambda: self._move(-1))
        self.later = Button(say("Ask it later"), lambda: self._move(1))
        self._places = WrappedRow([self.earlier, self.later])
        intro = say("What you write here counts for walk-rounds from now on. Proofs and cautions stay.")
        return [
            Words(intro, "body", "muted"),
            self.search,
            self.list,
            self.heading,
            self.safety,
            self._form_box,
            self._places,
            self.findings,
            Heading(say("A checkpoint of your own")),
            self._own_box,
        ]

    def ask(self) -> None:
        self.page.ask(
            lambda seat: Own(shipped_catalogue(), changes(seat), seat.catalogue), self._show, key=self.key
        )

    def focusFirst(self) -> None:
        self.search.setFocus()

    def _go_to_form(self) -> None:
        if self.form is not None:
            self.form.focusFirst()

    def _show(self, own: Own) -> None:
        self._own, self._read = own, self.context.reading
        self._show_list()
        if self.own_form is None:
            self.own_form = own_checkpoint_form(own.now, self._add)
            self._own_box.addWidget(self.own_form)
        if self._shown:
            self._show_form(own.one(self._shown))
        else:
            first = next(iter(own.shipped.checkpoints))
            self.list.select(first)

    def _show_list(self) -> None:
        own = self._own
        if own is None:
            return
        wanted = fold(self.search.words()).split()
        rows = [
            checkpoint for checkpoint in own.all if all(word in _searched(own, checkpoint) for word in wanted)
        ]
        self.list.show_rows([_strip(own, checkpoint) for checkpoint in rows])

    def _choose(self, key: Any) -> None:
        if self._own is not None and key is not None and key != self._shown:
            self._shown = str(key)
            self._show_form(self._own.one(self._shown))

    def _show_form(self, checkpoint: Checkpoint) -> None:
        assert self._own is not None
        self.heading.setText(checkpoint.name)
        self.safety.setText(
            say("It matters for the release. Left out, it is not asked and its risk is not counted.")
        )
        self.safety.setVisible(checkpoint.safety >= _CLEARED)
        emptied(self._form_box)
        words = self._own.words(checkpoint.code)
        form = Form()
        form.add("asked", "", TickField(say("Ask it on walk-rounds"), self._own.asked(checkpoint.code)))
        labels = {"name": say("&Name"), "tell": say("How to &tell"), "sound": say("&Sound means"),
                  "why": say("&Why it matters")}  # fmt: skip
        for name in _WORDS:
            field = TextField() if name == "name" else NoteField(lines=2)
            field.setValue(words.get(name, getattr(checkpoint, name)))
            shipped = say("shipped: {figure}", figure=getattr(checkpoint, name) or say("nothing"))
            form.add(name, labels[name], field, wide=True, note=shipped)
        form.on_save(say("&Keep it"), lambda values: self._save(checkpoint, values), icon_name="tick")
        form.remember(self.context.drafts, f"set-up/checkpoint/{checkpoint.code}")
        form.read_from(self._read)
        self.form = form
        self._form_box.addWidget(form)
        self.findings.show_checkpoint(checkpoint, self._own.changes, self._read)

    def _keep_finding(self, form: Form, finding: Finding, asked: bool, words: dict[str, str]) -> None:
        def keep(seat: Seat) -> None:
            change_finding(seat, finding.code, asked=asked, words=words)

        self.keep(form, keep, say("{name} is kept.", name=finding.name), topics=["catalogue"])

    def _move(self, by: int) -> None:
        code = self._shown
        if code:
            self.page.do(lambda seat: move_checkpoint(seat, code, by), changes=["catalogue"])

    def _add(self, form: Form, draft: OwnCheckpoint) -> None:
        def added(code: str) -> None:
            self._shown = code
            form.show_values({"name": "", "tell": "", "sound": "", "why": "", "findings": ""})

        told = say("{name} is on the list from now on.", name=draft.name)
        self.keep(form, lambda seat: add_checkpoint(seat, draft), told, topics=["catalogue"], then=added)

    def _save(self, checkpoint: Checkpoint, values: dict[str, Any]) -> None:
        form = self.form
        assert form is not None
        words = {name: values[name] for name in _WORDS if values[name] != getattr(checkpoint, name)}

        def keep(seat: Seat) -> None:
            change_checkpoint(seat, checkpoint.code, asked=values["asked"], words=words)

        self.keep(form, keep, say("{name} is kept.", name=checkpoint.name), topics=["catalogue"])


def _searched(own: Own, checkpoint: Checkpoint) -> str:
    zone = own.now.zones[checkpoint.zone].name
    return fold(" ".join((zone, checkpoint.name, checkpoint.tell, *own.words(checkpoint.code).values())))


def _strip(own: Own, checkpoint: Checkpoint) -> Strip:
    words = own.words(checkpoint.code)
    number = own.now.number(checkpoint.code)
    below = say("in your words") if words else ""
    return Strip(
        checkpoint.code,
        f"{number}  {words.get('name', checkpoint.name)}",
        own.now.zones[checkpoint.zone].name,
        "" if own.asked(checkpoint.code) else say("not asked"),
        below,
    )
