"""A logger's file of a cycling oven, read for the thermostat's proof. Nothing in the file is changed."""

from dataclasses import dataclass
from pathlib import Path

from shopdesk.domain.curve import Curve, Mark, Series, reduced
from shopdesk.domain.measured import Sentence, sentence
from shopdesk.domain.oven_log import OvenLog, cycles_in, read_log
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.oven import oven_curve
from shopdesk.domain.thermostat import check_set_point

MOST_BYTES = 300_000_000  # a logger of one oven writes far less


@dataclass(frozen=True, slots=True)
class Logged:
    """Cycles as (on, off) in °F, what has to be said of the file, and its curve with the cycles marked."""

    cycles: tuple[tuple[float, float], ...]
    says: tuple[Sentence, ...]
    curve: Curve


def read_logger_file(path: Path, set_f: float) -> Logged:
    """The cycles in a logger's csv at one setting of the dial; a Problem says what is wrong with it."""
    check_set_point(set_f)
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise Problem(
                "The file {file} is larger than any oven's log. Choose the logger's csv.", file=path.name
            )
        raw = path.read_bytes()
    except OSError as error:
        raise Problem("The file {file} cannot be read: {why}.", file=path.name, why=error.strerror) from error
    return read_logger(raw, path.name, set_f)


def read_logger(raw: bytes, name: str, set_f: float) -> Logged:
    """The same from the bytes of a file."""
    log = read_log(_text(raw, name))
    cycles = cycles_in(log)
    if not cycles:
        raise Problem(
            "No cycle was found in {file}: the temperature never turned back by 6 °F. Log the oven while "
            "it holds, for half an hour or more.",
            file=name,
        )
    says = (*log.says, sentence("{count} cycles were found in the file.", count=len(cycles)))
    pairs = tuple((round(c.on_f, 1), round(c.off_f, 1)) for c in cycles)
    return Logged(pairs, says, _curve(log, set_f, pairs))


def _curve(log: OvenLog, set_f: float, pairs: tuple[tuple[float, float], ...]) -> Curve:
    points = list(zip(log.minutes.tolist(), log.temperature_f.tolist(), strict=True))
    marks, at = [], 0
    for pair in pairs:
        for value, word in zip(pair, ("on", "off"), strict=True):
            at = next(i for i in range(at, len(points)) if abs(points[i][1] - value) < 0.06)
            marks.append(Mark(points[at][0], points[at][1], word))
    return oven_curve(set_f, (Series("oven", reduced(points)),), tuple(marks))


def _text(raw: bytes, name: str) -> str:
    marked = raw[:2] in (b"\xff\xfe", b"\xfe\xff")
    for encoding in ("utf-16",) if marked else ("utf-8-sig", "cp1252"):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text
    raise Problem("The file {file} is not text. Export it from the logger as csv.", file=name)
