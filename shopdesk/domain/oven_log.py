"""A logger's file of a cycling oven: read from text, with what was wrong in it said in sentences.

Columns are found by their headings (time or elapsed, temperature with its unit); comma,
semicolon or tab between them. Bad rows are counted and left out, gaps are named, a file too
long to read whole is read every so many rows. Nothing is ever changed in the file.
"""

import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from shopdesk.domain.measured import Sentence, figure, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.thermostat import Cycle
from shopdesk.domain.units import c_to_f

MOST_ROWS = 100_000
SWING_F = 6.0  # a turn back of less than this is noise, not a cycle (common practice, no source)
_BAD_SHARE = 0.05
_LOWEST_F, _HIGHEST_F = 20.0, 1000.0


@dataclass(frozen=True, slots=True)
class OvenLog:
    """Minutes since the first reading and °F, rising in time; `gaps` as (from, to) in minutes."""

    minutes: NDArray[np.float64]
    temperature_f: NDArray[np.float64]
    gaps: tuple[tuple[float, float], ...]
    says: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class _Columns:
    time: int
    temperature: int
    to_minutes: float  # 0: clock times or dates
    celsius: bool
    delimiter: str
    decimal_comma: bool


def read_log(text: str) -> OvenLog:
    """The readings in a logger's csv text; a Problem says what is wrong with its columns or rows."""
    # Line by line: cutting a long file in one go would hold up everything else in the program.
    read = io.StringIO(text.removeprefix("\ufeff"), newline=None)
    lines = [line.rstrip("\n") for line in read if not line.isspace()]
    if len(lines) < 2:
        raise Problem("The file has no readings. Export it from the logger as csv with its headings.")
    columns, start = _columns(lines)
    rows = lines[start:]
    _check_unit_of_time(rows, columns, lines[start - 1])
    says: list[Sentence] = []
    step = -(-len(rows) // MOST_ROWS)
    if step > 1:
        text = "The file has {rows} rows; every {step}th was read, which is plenty for an oven."
        says.append(sentence(text, rows=f"{len(rows):,}", step=step))
    minutes, temperatures, bad = _readings(rows[::step], columns, start, step)
    if bad:
        says.append(sentence("{bad} rows could not be read and were left out.", bad=bad))
    gaps = _gaps(minutes)
    for begin, end in gaps[:5]:
        text = "Readings are missing from minute {begin} to minute {end}; cycles across it are not counted."
        says.append(sentence(text, begin=figure(begin, 1), end=figure(end, 1)))
    if len(gaps) > 5:
        says.append(sentence("There are {count} gaps in all.", count=len(gaps)))
    return OvenLog(minutes, temperatures, gaps, tuple(says))


def cycles_in(log: OvenLog, *, swing_f: float = SWING_F) -> tuple[Cycle, ...]:
    """On and off points: each low followed by its high, the heating-up left out.

    The burner is taken to come on at the low and go off at the high; a thick-walled sensor
    overshoots both a little and alike.
    """
    turns = _turning_points(log.temperature_f, swing_f)
    cycles: list[Cycle] = []
    for (low, is_low), (high, _) in pairwise(turns):
        if is_low and not _across_gap(log, low, high):
            on_f, off_f = float(log.temperature_f[low]), float(log.temperature_f[high])
            cycles.append(Cycle(on_f, off_f))
    return tuple(cycles)


def _across_gap(log: OvenLog, first: int, last: int) -> bool:
    begin, end = log.minutes[first], log.minutes[last]
    return any(a < end and b > begin for a, b in log.gaps)


def _turning_points(values: NDArray[np.float64], swing: float) -> list[tuple[int, bool]]:
    """(index, is a low), from the first high on; a turn counts once the curve has come back by `swing`.

    The last, unfinished turn is left out.
    """
    found: list[tuple[int, bool]] = []
    best, top, rising = 0, float(values[0]), True
    for index, value in enumerate(values.tolist()):
        if (value > top) if rising else (value < top):
            best, top = index, value
        elif abs(value - top) >= swing:
            found.append((best, not rising))
            rising, best, top = not rising, index, value
    return found[1:] if found and found[0][0] == 0 else found


# ---- columns -------------------------------------------------------------------------------

_TIME = re.compile(r"time|date|elapsed|minute|second|\bmin\b|\bsec\b|\bh\b|hour", re.IGNORECASE)
_TEMPERATURE = re.compile(
    r"temp|°\s*[cf]\b|\bdeg|fahrenheit|celsius|oven|probe|(?:^|_|\W)[cf]$", re.IGNORECASE
)
_CELSIUS = re.compile(r"celsius|°\s*c\b|(?:^|_|\W)c(?:\W|$)|deg\s*c\b|degc", re.IGNORECASE)
_FAHRENHEIT = re.compile(r"fahrenheit|°\s*f\b|(?:^|_|\W)f(?:\W|$)|deg\s*f\b|degf", re.IGNORECASE)


def _columns(lines: Sequence[str]) -> tuple[_Columns, int]:
    """The columns and the first row of readings; headings may stand a few lines down."""
    for number, line in enumerate(lines[:40]):
        delimiter = max("\t;,", key=line.count)
        names = [name.strip().strip('"') for name in line.split(delimiter)]
        temperatures = [i for i, name in enumerate(names) if _TEMPERATURE.search(name)]
        times = [i for i, name in enumerate(names) if _TIME.search(name) and i not in temperatures]
        if temperatures and times and len(names) > 1:
            column = _Columns(
                time=times[0],
                temperature=temperatures[0],
                to_minutes=_to_minutes(names[times[0]]),
                celsius=_celsius(names[temperatures[0]]),
                delimiter=delimiter,
                decimal_comma=delimiter != ",",
            )
            return column, number + 1
    raise Problem(
        "The file has no column of times and one of temperatures; its first line is “{line}”. Name them "
        "for example minutes and temperature_f.",
        line=lines[0][:80],
    )


def _to_minutes(name: str) -> float:
    lowered = name.lower()
    for word, factor in (("milli", 1 / 60_000), ("min", 1.0), ("sec", 1 / 60), ("hour", 60.0)):
        if word in lowered:
            return factor
    bracketed = re.search(r"[(\[_]\s*([smh])\s*[)\]]?$", lowered)
    return {"s": 1 / 60, "m": 1.0, "h": 60.0}[bracketed[1]] if bracketed else 0.0


def _check_unit_of_time(rows: Sequence[str], columns: _Columns, heading: str) -> None:
    cell = rows[0].split(columns.delimiter)[columns.time].strip().strip('"') if rows else ""
    if not columns.to_minutes and re.fullmatch(r"\d+([.,]\d+)?", cell):
        raise Problem(
            "The times in “{heading}” are plain numbers without a unit. Name the column minutes or seconds.",
            heading=heading[:60],
        )


def _celsius(name: str) -> bool:
    if _FAHRENHEIT.search(name):
        return False
    if _CELSIUS.search(name):
        return True
    raise Problem(
        "The column “{name}” does not say whether it is °F or °C. Name it temperature_f or temperature_c.",
        name=name[:60],
    )


# ---- rows ----------------------------------------------------------------------------------


def _readings(
    rows: Sequence[str], columns: _Columns, first_row: int, step: int
) -> tuple[NDArray[np.float64], NDArray[np.float64], int]:
    minutes: list[float] = []
    temperatures: list[float] = []
    bad, first_bad, days = 0, 0, 0.0
    for number, row in enumerate(rows):
        reading = _reading(row, columns)
        if reading and minutes and not columns.to_minutes and reading[0] + days < minutes[-1] - 720:
            days += 1440  # a clock without a date passed midnight
        if reading is None or (minutes and reading[0] + days <= minutes[-1]):
            bad, first_bad = bad + 1, first_bad or first_row + 1 + number * step
            continue
        minutes.append(reading[0] + days)
        temperatures.append(reading[1])
    if len(minutes) < 10 or bad > _BAD_SHARE * len(rows):
        raise Problem(
            "{bad} of {rows} rows read cannot be used, the first is row {row}: its time does not go forward, "
            "or its temperature is none. Export the file again; nothing was changed.",
            bad=bad,
            rows=len(rows),
            row=first_bad or first_row + 1,
        )
    start = minutes[0]
    return np.array(minutes) - start, np.array(temperatures), bad


def _reading(row: str, columns: _Columns) -> tuple[float, float] | None:
    cells = row.split(columns.delimiter)
    try:
        raw = cells[columns.temperature].strip().strip('"')
        value = float(raw.replace(",", ".") if columns.decimal_comma else raw)
        minute = _minute(cells[columns.time].strip().strip('"'), columns)
    except (IndexError, ValueError):
        return None
    fahrenheit = c_to_f(value) if columns.celsius else value
    return (minute, fahrenheit) if _LOWEST_F <= fahrenheit <= _HIGHEST_F else None


_CLOCK = re.compile(
    r"(?:\d{1,2}[/.]\d{1,2}[/.]\d{2,4}[ ,]+)?"  # a date with slashes: the clock alone tells
    r"(?P<hour>\d+):(?P<minute>\d\d)(?::(?P<second>\d\d(?:\.\d+)?))?\s*(?P<half>[AP]M)?",
    re.IGNORECASE,
)


def _minute(text: str, columns: _Columns) -> float:
    if columns.to_minutes and ":" not in text:
        return float(text.replace(",", ".") if columns.decimal_comma else text) * columns.to_minutes
    clock = _CLOCK.fullmatch(text)
    if clock:
        hour = (
            int(clock["hour"]) % 12 + 12 * (clock["half"].upper() == "PM")
            if clock["half"]
            else int(clock["hour"])
        )
        return hour * 60 + int(clock["minute"]) + float(clock["second"] or 0) / 60
    instant = datetime.fromisoformat(text)
    # Without a zone a time is only ever compared with its neighbours, so any one zone will do.
    return (instant.replace(tzinfo=UTC) if instant.tzinfo is None else instant).timestamp() / 60


def _gaps(minutes: NDArray[np.float64]) -> tuple[tuple[float, float], ...]:
    """Steps far longer than the usual one, and longer than half a minute."""
    steps = np.diff(minutes)
    usual = float(np.median(steps))
    wide = np.flatnonzero((steps > 5 * usual) & (steps > 0.5))
    return tuple((float(minutes[i]), float(minutes[i + 1])) for i in wide)
