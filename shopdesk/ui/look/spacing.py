"""Distances, counted from the height of the text, so that they grow with it."""

from dataclasses import dataclass

from PySide6.QtGui import QFont, QFontMetricsF


@dataclass(frozen=True, slots=True)
class Spacing:
    """Distances in pixels for one font."""

    hair: int  # between a mark and its word
    small: int  # within a group
    gap: int  # between fields
    wide: int  # between groups
    row: int  # height of a list row of one line
    picture_row: int  # height of a list row with its drawing
    icon: int  # side of an icon beside text
    target: int  # least side of anything one presses
    big_target: int  # the same at the bench, for gloved hands


def spacing(font: QFont) -> Spacing:
    """Distances for widgets that use this font."""
    line = QFontMetricsF(font).height()

    def of(share: float) -> int:
        return max(1, round(line * share))

    return Spacing(
        hair=of(0.2),
        small=of(0.4),
        gap=of(0.7),
        wide=of(1.3),
        row=of(1.7),
        picture_row=max(56, of(3.4)),
        icon=max(16, of(1.1)),
        target=max(28, of(1.7)),
        big_target=max(44, of(2.8)),
    )
