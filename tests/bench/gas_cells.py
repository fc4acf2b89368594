"""Every cell of published gas tables through the command line, counted.

`python -m tests.bench.gas_cells FOLDER`: FOLDER holds the tables as CSV files (`orifice_textbook.csv`,
`orifice_code_annex.csv`, `orifice_altitude.csv`, `meter_clock.csv`, `drills.csv`). One line a table: how
many cells come out, of how many, and each that does not. Run by hand.
"""

# ruff: noqa: T201 - a bench prints its figures

import csv
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from typer.testing import CliRunner

from shopdesk.cli import app

Row = dict[str, str]
_HALF_A_THOUSANDTH = 0.0005 + 1e-9  # the textbook prints three decimals
_BAND = 0.05  # of the code's annex
_HALF_A_FOOT = 0.5 + 1e-9  # the meter table prints whole cubic feet
_HALF_A_MICRON = 6e-5  # drills are listed to four decimals of a millimetre


def asked(*words: str) -> dict[str, Any]:
    """The answer of `shopdesk gas ... --json`."""
    result = CliRunner().invoke(app, ["gas", *words, "--json"])
    if result.exit_code:
        raise SystemExit(f"{' '.join(words)}: {result.stderr}")
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer


def textbook(row: Row) -> bool:
    flow = asked(
        "flow", "--diameter-in", row["diameter_in_as_printed"], "--gravity", row["specific_gravity"],
        "--pressure-inwc", row["pressure_inwc"], "--coefficient", row["K"],
    )  # fmt: skip
    return abs(flow["flow_cfh"] - float(row["cfh_published"])) <= _HALF_A_THOUSANDTH


def annex(row: Row) -> bool:
    flow = asked("flow", "--drill", row["size"], "--gravity", "0.6", "--pressure-inwc", row["pressure_inwc"])
    return abs(flow["flow_cfh"] / float(row["cfh_table"]) - 1) <= _BAND


def elevation(row: Row) -> bool:
    at = ("--elevation-ft", row["elevation_ft_from"])
    return bool(
        asked("drill", "--drill", row["sea_level_size"], *at)["drill"] == row["equivalent_size_published"]
    )


def meter(row: Row) -> bool:
    rate = asked("clock", "--seconds", row["seconds_per_rev"], "--dial-cuft", row["dial_cuft"])
    return abs(rate["rate_cfh"] - float(row["cfh_published"])) <= _HALF_A_FOOT


def drill(row: Row) -> bool:
    return (
        abs(asked("flow", "--drill", row["size"])["diameter_mm"] - float(row["diameter_mm"])) < _HALF_A_MICRON
    )


TABLES: dict[str, Callable[[Row], bool]] = {
    "orifice_textbook.csv": textbook,
    "orifice_code_annex.csv": annex,
    "orifice_altitude.csv": elevation,
    "meter_clock.csv": meter,
    "drills.csv": drill,
}


def main(folder: Path) -> None:
    for name, comes_out in TABLES.items():
        if not (folder / name).is_file():
            print(f"{name}: not there, skipped")
            continue
        with (folder / name).open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        off = [row for row in rows if not comes_out(row)]
        print(f"{name}: {len(rows) - len(off)} of {len(rows)}")
        for row in off:
            print(f"  not: {row}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
