"""What the program may reach: no shell, no pickle, no network but the database's; no link is followed."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "shopdesk"
# Modules that run other programs, run what they read, or reach over a network.
REACHING = {
    "subprocess", "pty", "pickle", "shelve", "marshal", "dill", "urllib.request", "urllib.error", "http",
    "ftplib", "smtplib", "imaplib", "poplib", "telnetlib", "xmlrpc", "socketserver", "ssl", "socket",
    "webbrowser", "requests", "httpx", "aiohttp", "PySide6.QtNetwork", "PySide6.QtWebEngineWidgets",
    "PySide6.QtWebSockets", "yaml", "code", "multiprocessing",
}  # fmt: skip
CALLS = {"eval", "exec", "compile", "system", "popen", "execv", "execvp", "spawnv", "startfile"}
# Each with its reason.
ALLOWED = {
    ("storage/lock.py", "socket"),  # the machine's own name, in the note of who holds the lock
    (
        "commands/menu_entry.py",
        "subprocess",
    ),  # the desktop's own tools for its menu
    (
        "ui/single_start.py",
        "PySide6.QtNetwork",
    ),  # a local socket to the open window
    ("storage/server_copy.py", "subprocess"),  # the database server's own tools, without a shell
}


def imported(tree: ast.AST) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return found


def calls(tree: ast.AST) -> set[str]:
    """Names of what is called, but not methods of Qt that are called `exec`."""
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                found.add(node.func.id)
            elif isinstance(node.func, ast.Attribute) and isinstance(node.func.value, ast.Name):
                found.add(node.func.attr if node.func.value.id == "os" else "")
            found |= {f"{word.arg}=True" for word in node.keywords if _is_true(word.value)}
    return found


def _is_true(value: ast.expr) -> bool:
    return isinstance(value, ast.Constant) and value.value is True


def reaching(source: str) -> set[str]:
    tree = ast.parse(source)
    named = {
        module for name in imported(tree) for module in REACHING if (name + ".").startswith(module + ".")
    }
    return named | (calls(tree) & (CALLS | {"shell=True", "setOpenExternalLinks=True"}))


def test_nothing_in_the_program_runs_a_shell_or_a_pickle_or_reaches_over_a_network() -> None:
    found = {
        (str(path.relative_to(PACKAGE).as_posix()), what)
        for path in PACKAGE.rglob("*.py")
        for what in reaching(path.read_text(encoding="utf-8"))
    }
    assert found <= ALLOWED


def test_only_a_file_of_this_machine_is_ever_handed_to_the_desktop_to_open() -> None:
    opening = [path for path in PACKAGE.rglob("*.py") if "openUrl(" in path.read_text(encoding="utf-8")]
    assert [path.name for path in opening] == ["dialogs.py"]
    text = opening[0].read_text(encoding="utf-8")
    assert text.count("openUrl(") == text.count("openUrl(QUrl.fromLocalFile(")


def test_labels_take_no_markup_from_what_people_typed() -> None:
    """Qt reads a text that looks like HTML as HTML unless it is told not to (Qt::AutoText)."""
    texts = {p: p.read_text(encoding="utf-8") for p in (PACKAGE / "ui").rglob("*.py")}
    marks = ("RichText", "setHtml", "insertHtml")
    rich = [p.name for p, text in texts.items() if any(mark in text for mark in marks)]
    assert rich == []
    boxes = [text for text in texts.values() if "QMessageBox(" in text]
    assert boxes
    for text in boxes:
        assert text.count("setTextFormat(Qt.TextFormat.PlainText)") == text.count("QMessageBox(QMessageBox")


@pytest.mark.parametrize(
    "source",
    ["import subprocess", "from urllib import request", "import os\nos.system('x')", "eval('1')",
     "run('x', shell=True)", "from PySide6.QtNetwork import QTcpSocket"],
)  # fmt: skip
def test_the_walk_finds_what_it_is_for(source: str) -> None:
    assert reaching(source)
