"""How the window looks on this computer: its colours and the size of its text."""

from typing import Any

from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.widgets.boxes import Part
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import say

_SCALES = tuple(range(80, 210, 10))  # percent


class LookSection(SetUpSection):
    """What is chosen counts at once."""

    key = "look"

    def __init__(self, page: Any) -> None:
        self.title = say("Look")
        super().__init__(page)
        self.context.view.changed.connect(self._follow)
        self._follow()

    def build(self) -> list[Part]:
        self.form = Form(columns=self.columns)
        self.form.add("scheme", say("&Colours"), ChoiceField([
            ("system", say("As the computer is set")), ("light", say("Light")), ("dark", say("Dark")),
            ("contrast", say("High contrast")),
        ])).edited.connect(self._scheme)  # fmt: skip
        sizes = ChoiceField(_sizes())
        self.form.add(
            "scale", say("&Text size"), sizes, note=say("Also Ctrl and plus, minus or 0, anywhere.")
        )
        sizes.edited.connect(self._scale)
        intro = say("This is kept on this computer, not in the shop. It counts at once.")
        return [Words(intro, "body", "muted"), self.form]

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def _scheme(self) -> None:
        self.context.view.choose_scheme(self.form["scheme"].value())

    def _scale(self) -> None:
        self.context.view.choose_scale(self.form["scale"].value() / 100)

    def _follow(self) -> None:
        view = self.context.view
        self.form["scheme"].setValue(view.scheme)
        self.form["scale"].setValue(min(_SCALES, key=lambda percent: abs(percent - round(view.scale * 100))))


def _sizes() -> list[tuple[int, str]]:
    return [(percent, say("{percent} of the usual", percent=f"{percent}\u00a0%")) for percent in _SCALES]
