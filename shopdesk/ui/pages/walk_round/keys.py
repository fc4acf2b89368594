"""Which key does what on the walk. One table, shown at the foot of the checkpoint and read by it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from shopdesk.wording import say

_K = Qt.Key
_DEEDS: dict[Qt.Key, str] = {
    _K.Key_S: "sound",
    _K.Key_N: "pass",
    _K.Key_C: "claimed",
    _K.Key_E: "seen",
    _K.Key_T: "tested",
    _K.Key_Plus: "more",
    _K.Key_Equal: "more",
    _K.Key_Minus: "fewer",
    _K.Key_Return: "note",
    _K.Key_Enter: "note",
    _K.Key_Right: "on",
    _K.Key_Down: "on",
    _K.Key_Left: "back",
    _K.Key_Up: "back",
    _K.Key_Backspace: "back",
    _K.Key_PageDown: "zone on",
    _K.Key_PageUp: "zone back",
    _K.Key_Delete: "take back",
    _K.Key_Slash: "find",
    _K.Key_F3: "find",
    _K.Key_P: "photograph",
    _K.Key_V: "view",
    _K.Key_Z: "zones",
    _K.Key_D: "drawing",
    _K.Key_I: "particulars",
    _K.Key_G: "gas",
    _K.Key_O: "offered",
    _K.Key_L: "look at",
    _K.Key_W: "worth",
}
_HELD = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.MetaModifier


def deed_of(event: QKeyEvent) -> tuple[str, int]:
    """What a key means, and for a finding its place from 0; ("", 0) for a key with no meaning here.

    Alt with a figure answers and stays at the checkpoint.
    """
    for standard, deed in (
        (QKeySequence.StandardKey.Undo, "undo"),
        (QKeySequence.StandardKey.Paste, "paste"),
        (QKeySequence.StandardKey.Find, "find"),
    ):
        if event.matches(standard):
            return deed, 0
    if event.modifiers() & _HELD:
        return "", 0
    key = Qt.Key(event.key())
    alt = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
    if _K.Key_1 <= key <= _K.Key_9:
        return ("find and stay" if alt else "found"), key - _K.Key_1
    return ("", 0) if alt else (_DEEDS.get(key, ""), 0)


def key_words() -> str:
    """The keys that stand on no button, in one quiet line."""
    return say(
        "← → back and on · Page Up, Page Down zone · + − count · Enter note · P photograph · / find · "
        "Delete takes back · Ctrl+Z undo · Alt+figure stays here · V view · D drawing · Z zones · "
        "I particulars · O the phone’s pictures · L look at pictures · W what it comes to · G smell of gas"
    )
