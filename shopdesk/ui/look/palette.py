"""Qt's palette and the small style sheet, made from a set of colours."""

from PySide6.QtGui import QColor, QPalette

from shopdesk.ui.look.colours import Colours

_ROLES = QPalette.ColorRole
_OFF = QPalette.ColorGroup.Disabled


def palette_of(colours: Colours) -> QPalette:
    """Every role set, so that nothing is left to the style's guess."""
    c = colours
    palette = QPalette(QColor(c.button), QColor(c.window))
    for role, colour in (
        (_ROLES.Window, c.window),
        (_ROLES.WindowText, c.text),
        (_ROLES.Base, c.base),
        (_ROLES.AlternateBase, c.alternate),
        (_ROLES.Text, c.text),
        (_ROLES.PlaceholderText, c.muted),
        (_ROLES.Button, c.button),
        (_ROLES.ButtonText, c.text),
        (_ROLES.BrightText, c.problem),
        (_ROLES.Highlight, c.accent),
        (_ROLES.HighlightedText, c.accent_text),
        (_ROLES.Accent, c.accent),
        (_ROLES.Link, c.link),
        (_ROLES.LinkVisited, c.link),
        (_ROLES.ToolTipBase, c.base),
        (_ROLES.ToolTipText, c.text),
        (_ROLES.Light, _lighter(c)),
        (_ROLES.Midlight, c.button),
        (_ROLES.Mid, c.line),
        (_ROLES.Dark, c.edge),
        (_ROLES.Shadow, c.edge),
    ):
        palette.setColor(role, QColor(colour))
    for role in (_ROLES.WindowText, _ROLES.Text, _ROLES.ButtonText):
        palette.setColor(_OFF, role, QColor(c.off))
    palette.setColor(_OFF, _ROLES.Highlight, QColor(c.dark))
    palette.setColor(_OFF, _ROLES.HighlightedText, QColor(c.text))
    return palette


FRAMED = (
    *("QLineEdit", "QAbstractSpinBox", "QComboBox", "QCheckBox", "QRadioButton", "QPushButton"),
    *("QToolButton", "QPlainTextEdit", "QTextEdit", "QGroupBox", "QSlider"),
)


def framed_palette(colours: Colours) -> QPalette:
    """The palette of `FRAMED` classes, whose edges one must see.

    Fusion draws an edge in the window colour made darker by 1.4, which is lost on a dark ground;
    these classes paint no window ground, so their window colour is chosen for the edge alone.
    """
    palette = palette_of(colours)
    palette.setColor(_ROLES.Window, QColor(colours.edge).lighter(140))
    return palette


def _lighter(c: Colours) -> str:
    return c.enamel if c.scheme == "light" else c.bright


def style_sheet(colours: Colours) -> str:
    """Only what a palette cannot say: the rail of places and its focus ring, tips, thin frames.

    The rail is any widget named `rail`; its buttons are QToolButtons.
    """
    c = colours
    return f"""
#rail {{ background: {c.rail}; border: 0; border-right: 1px solid {c.line}; }}
#rail QToolButton {{
    background: transparent; color: {c.text}; border: 2px solid transparent; border-radius: 5px;
    padding: 5px 8px; margin: 0 4px; text-align: left;
}}
#rail QToolButton:hover {{ background: {c.button}; }}
#rail QToolButton:checked {{ background: {c.accent}; color: {c.accent_text}; }}
#rail QToolButton:focus {{ border-color: {c.focus}; }}
#rail QToolButton:checked:focus {{ border-color: {c.accent_text}; }}
#first-range {{ background: {c.rail}; border: 0; border-bottom: 1px solid {c.line}; }}
QAbstractItemView {{ border: 1px solid {c.edge if c.scheme == "contrast" else c.line}; }}
QHeaderView {{ border: 0; }}
QHeaderView::section {{
    background: {c.button}; color: {c.text}; padding: 4px 6px; border: 0; border-bottom: 1px solid {c.line};
}}
QListView::item {{ padding: 3px 6px; }}
QLineEdit {{
    background: {c.base}; border: 1px solid {c.edge}; border-radius: 3px; padding: 3px 6px;
    selection-background-color: {c.accent}; selection-color: {c.accent_text};
}}
QLineEdit:focus {{ border: 2px solid {c.focus}; padding: 2px 5px; }}
QLineEdit:read-only, QLineEdit:disabled {{ border-color: {c.line}; }}
QToolTip {{ color: {c.text}; background: {c.base}; border: 1px solid {c.edge}; padding: 4px; }}
"""
