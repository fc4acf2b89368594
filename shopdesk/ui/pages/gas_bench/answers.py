"""The answer of a calculator: its sentences, the caution that goes with it, and whom to defer to."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Caution
from shopdesk.domain.gas.calculators import Reckoned
from shopdesk.domain.gas.cautions import AlsoChanges
from shopdesk.domain.gas.conversion import Change
from shopdesk.domain.gas.whole_range import Plan
from shopdesk.domain.measured import Result, figure
from shopdesk.domain.quantity import Quantity
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region, say, say_n
from shopdesk.wording.bench_measures import say_sentence, shown
from shopdesk.wording.guides import guide_in_units

_WORDS = {
    Result.MEETS: "○ meets",
    Result.DOES_NOT_MEET: "■ does not meet",
    Result.CANNOT_TELL: "△ cannot tell",
}


class Answer(QWidget):
    """The first sentence large, the rest under it."""

    def __init__(self, region: Region, caution: Caution) -> None:
        super().__init__()
        self._region = region
        self.first = Words("", "title")
        self.rest = Words("")
        self.missing = Note("")
        text = guide_in_units(say(caution.text), region)
        careful = Note(say("Caution: {text} Defer to: {whom}", text=text, whom=say(caution.defer_to)))
        self.setLayout(upright([self.first, self.rest, self.missing, careful], gap="small"))

    def show_answer(self, reckoned: Reckoned) -> None:
        told = [say_sentence(each, self._region) for each in reckoned.says]
        word = say(_WORDS[reckoned.result]) if reckoned.result else ""
        first = word or told[0]
        self._show(first, "\n".join(told if word else told[1:]), "")

    def show_missing(self, text: str) -> None:
        self._show("", "", text)

    def _show(self, first: str, rest: str, missing: str) -> None:
        for part, text in ((self.first, first), (self.rest, rest), (self.missing, missing)):
            part.setText(text)
            part.setVisible(bool(text))


class PlanShown(QWidget):
    """A conversion worked out: burner by burner, what to drill or buy, and what else changes."""

    def __init__(self, region: Region) -> None:
        super().__init__()
        self._region = region
        self.burners = StripList(say("Burner by burner"), empty=say("Spuds will stand here."), most=9)
        self.spuds = Words("", "strong")
        self.warnings = Words("", "body", "problem")
        self.says = Words("")
        self.also = Words("")
        self.setLayout(
            upright(
                [self.spuds, self.burners, self.warnings, self.says,
                 Heading(say("What else changes"), "strong"), self.also],
                gap="small",
            )
        )  # fmt: skip

    def show_plan(self, plan: Plan, also: AlsoChanges) -> None:
        self.spuds.setText("; ".join(_spuds(plan)))
        self.burners.show_rows([_strip(change, self._region) for change in plan.changes])
        self.warnings.setText(_warned(plan, self._region))
        self.warnings.setVisible(bool(plan.warnings))
        self.says.setText("\n".join(say_sentence(told, self._region) for told in plan.says))
        texts = (also.regulator, also.pilots, also.bypass, also.safety_shutoff, also.air_shutters, also.label)
        self.also.setText("\n".join(f"– {say(text)}" for text in texts))


def _warned(plan: Plan, region: Region) -> str:
    """The warning of the first burner in figures; the others show theirs in the list."""
    if not plan.warnings:
        return ""
    more = len(plan.warnings) - 1
    first = say_sentence(plan.warnings[0], region)
    rest = say_n("{count} more burner likewise.", "{count} more burners likewise.", more) if more else ""
    return f"{first} {rest}".strip()


def work_in_words(work: str, size: str) -> str:
    words = {
        "keep": say("keep drill {size}", size=size),
        "drill": say("drill out to {size}", size=size),
        "buy": say("buy one drilled {size}", size=size),
    }
    return words[work]


def _spuds(plan: Plan) -> Sequence[str]:
    return [
        say_n("{count} spud: {work}", "{count} spuds: {work}", count, work=work_in_words(work, size))
        for work, size, count in plan.spuds
    ]


def _strip(change: Change, region: Region) -> Strip:
    drill = change.choice.chosen.drill
    found = shown(change.spud.diameter_in, Quantity.HOLE, region)
    becomes = shown(drill.diameter_in, Quantity.HOLE, region)
    around = [
        say("{size}: {heat}", size=sized.drill.size, heat=shown(sized.input_btuh or 0, Quantity.HEAT, region))
        for sized in (change.choice.smaller, change.choice.larger)
        if sized
    ]
    left = say("left as it is {times} times the input", times=figure(change.unchanged_ratio))
    second = "; ".join([say("{found} to {becomes}", found=found, becomes=becomes), *around, left])
    heat = shown(change.choice.chosen.input_btuh or 0, Quantity.HEAT, region)
    return Strip(
        change.spud.burner, change.spud.burner, second, work_in_words(change.work, drill.size),
        say("{heat} of {wanted}", heat=heat, wanted=shown(change.wanted_btuh, Quantity.HEAT, region)),
    )  # fmt: skip
