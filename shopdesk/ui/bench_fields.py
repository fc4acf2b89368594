"""Fields for what a proof or a calculator asks: numbers in the shop's units, pairs, choices, ticks, texts."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QApplication

from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import Asked
from shopdesk.ui.look.letters import BODY_POINTS
from shopdesk.ui.widgets.fields import ChoiceField, ParsedField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import bare, parsed, say_problem_in, say_sentence, unit_of

_BETWEEN = re.compile(r"[;\n]|,(?=\s)|\s{2,}")
_LARGE = 1.45  # from this text scale on, fields stand under each other
_TOGETHER = re.compile(r"\s*/\s*|\s+-\s+|\s+")


def field_for(asked: Asked, region: Region) -> Any:
    """The widget for one reading."""
    if asked.kind == "choice":
        choices = [(code, say(words)) for code, words in asked.choices]
        return ChoiceField(choices if asked.choices[0][0] == "" else [("", say("choose")), *choices])
    if asked.kind == "tick":
        return TickField(label_of(asked, region))
    if asked.kind == "text":
        return TextField()
    if asked.kind == "pairs":
        return ParsedField(
            lambda typed: pairs_in(typed, asked, region), lambda pairs: pairs_as_text(pairs, asked, region)
        )
    return ParsedField(
        lambda typed: parsed(typed, asked.quantity, region, field=asked.name),
        lambda value: bare(value, asked.quantity, region),
    )


def label_of(asked: Asked, region: Region) -> str:
    """The name of a reading with its unit, so that nobody has to guess it."""
    words = say_sentence(asked.title, region)
    unit = unit_of(asked.quantity, region) if asked.kind in ("number", "pairs") else ""
    if asked.kind == "pairs":
        second = unit_of(asked.second, region)
        unit = unit if second == unit else f"{unit} / {second}"
    return say("{name}, {unit}", name=words, unit=unit) if unit else words


def pairs_in(typed: str, asked: Asked, region: Region) -> tuple[tuple[float, float], ...]:
    """`331/372, 330/371` as pairs; a Problem names what is no pair."""
    pairs = []
    for part in _BETWEEN.split(typed.strip().rstrip(",;")):
        if not part.strip():
            continue
        pieces = _TOGETHER.split(part.strip())
        if len(pieces) != 2:
            raise Problem(
                "“{typed}” is not two figures with a stroke between, such as 331/372.",
                field=asked.name,
                typed=part.strip(),
            )
        pairs.append((parsed(pieces[0], asked.quantity, region), parsed(pieces[1], asked.second, region)))
    return tuple(pairs)


def pairs_as_text(pairs: Sequence[Sequence[float]], asked: Asked, region: Region) -> str:
    return ", ".join(
        f"{bare(one, asked.quantity, region)}/{bare(other, asked.second, region)}" for one, other in pairs
    )


class AskedForm(Form):
    """A form made of what is asked; fields asked only with another's answer come and go with it."""

    def __init__(self, fields: Sequence[Asked], region: Region, *, columns: int = 2) -> None:
        large = QApplication.font().pointSizeF() > BODY_POINTS * _LARGE
        super().__init__(columns=1 if large else columns)
        self._region = region
        self.asked = tuple(fields)
        for each in fields:
            if each.group:
                self.heading(say(each.group))
            label = "" if each.kind == "tick" else label_of(each, region)
            self.add(each.name, label, field_for(each, region), note=say(each.note) if each.note else "")
        self.edited.connect(self.show_asked)
        self.show_asked()

    def in_words(self, problem: Problem) -> str:
        return say_problem_in(problem, self._region)

    def show_asked(self) -> None:
        """Hides what is not asked for with these answers."""
        for each in self.asked:
            if each.when is not None:
                name, wanted = each.when
                holder = self[each.name].parentWidget()
                holder.setVisible(self[name].value() == wanted)

    def readable(self) -> dict[str, Any]:
        """What can be read of the asked fields now; what cannot is left out, nothing is complained of."""
        found: dict[str, Any] = {}
        for each in self._asked_now():
            try:
                value = self[each.name].value()
            except Problem:
                continue
            if value not in (None, "", ()) and not (each.kind == "tick" and value is False):
                found[each.name] = value
        return found

    def asked_values(self) -> dict[str, Any] | None:
        """Every answer given; None when one cannot be read, which is then shown and has the keyboard."""
        values = self.values()
        if values is None:
            return None
        names = {each.name for each in self._asked_now()}
        return {n: v for n, v in values.items() if n in names and v not in (None, "", ()) and v is not False}

    def show_known(self, values: Mapping[str, Any]) -> None:
        """Fills in what is known already."""
        self.show_values(values)
        self.show_asked()

    def values(self) -> dict[str, Any] | None:
        """As for every form; what stands unreadable in a field that is not asked for is let go."""
        now = {each.name for each in self._asked_now()}
        for each in self.asked:
            if each.name not in now:
                try:
                    self[each.name].value()
                except Problem:
                    self[each.name].setValue(None)
        return super().values()

    def _asked_now(self) -> list[Asked]:
        return [
            each for each in self.asked if each.when is None or self[each.when[0]].value() == each.when[1]
        ]
