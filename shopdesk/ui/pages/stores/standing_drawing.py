"""Draws a standing in a list: its sign before its words, and what presses in bold."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QModelIndex, QPersistentModelIndex
from PySide6.QtGui import QColor, QFont, QIcon, QPalette
from PySide6.QtWidgets import QApplication, QStyledItemDelegate, QStyleOptionViewItem

from shopdesk.ui.look import colours_of, icon
from shopdesk.ui.pages.stores.standing import Standing
from shopdesk.ui.widgets.rows import ROW, Column
from shopdesk.wording import say

Index = QModelIndex | QPersistentModelIndex


def standing_column(of: Callable[[Any], Standing], width: int = 21) -> Column:
    """The first column of a list: where a row stands."""
    return Column(
        "standing", say("Standing"), lambda row: of(row).words, width=width, icon=lambda row: _sign(of(row)),
        sort=lambda row: of(row).words,
    )  # fmt: skip


def _sign(standing: Standing) -> QIcon:
    return icon(standing.sign, QApplication.palette())


class StandingDrawing(QStyledItemDelegate):
    """Bold and in the colour of problems where `of` says it presses; the words say it too."""

    def __init__(self, of: Callable[[Any], bool]) -> None:
        super().__init__()
        self._of = of

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        super().initStyleOption(option, index)
        if not self._of(index.data(ROW)):
            return
        option.font.setWeight(QFont.Weight.DemiBold)
        colour = QColor(colours_of(QApplication.palette()).problem)
        option.palette.setColor(QPalette.ColorRole.Text, colour)
