"""The help: topics in Markdown under `resources/help/<language>/`, read and searched.

A file is `NN-key.md`; its first line is `# Title`, its number the order. Knows nothing of windows or sites.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from shopdesk import paths
from shopdesk.domain.folding import fold
from shopdesk.wording.speech import SOURCE_LANGUAGE, spoken_language


@dataclass(frozen=True, slots=True)
class Topic:
    """One page of the help; `text` is Markdown, the title included."""

    key: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Hit:
    """A topic that has the words, and the first line that has one of them."""

    topic: Topic
    line: str


def topics() -> tuple[Topic, ...]:
    """Every topic in the chosen language; in English where there is no translation of it."""
    return _topics(spoken_language())


def find(words: str) -> list[Hit]:
    """Topics with all of `words`, those with one in the title first; every topic for no words."""
    wanted = fold(words).split()
    if not wanted:
        return [Hit(topic, "") for topic in topics()]
    hits = [
        Hit(topic, _line_with(topic, wanted))
        for topic in topics()
        if all(word in fold(topic.text) for word in wanted)
    ]
    return sorted(hits, key=lambda hit: not any(word in fold(hit.topic.title) for word in wanted))


@cache
def _topics(language: str) -> tuple[Topic, ...]:
    english = paths.resource("help", SOURCE_LANGUAGE)
    own = paths.resource("help", language)
    return tuple(
        _read(own / file.name if (own / file.name).is_file() else file)
        for file in sorted(english.glob("*.md"))
    )


def _read(file: Path) -> Topic:
    text = file.read_text(encoding="utf-8")
    return Topic(file.stem.partition("-")[2], text.partition("\n")[0].removeprefix("# "), text)


def _line_with(topic: Topic, wanted: list[str]) -> str:
    lines = [line.strip("# -|*") for line in topic.text.splitlines()[1:] if not line.startswith("![")]
    return next((line for line in lines if any(word in fold(line) for word in wanted)), "")
