"""The shipped tables and the published cells that the tests of the gas bench hold against them."""

import csv
from pathlib import Path

from shopdesk import paths
from shopdesk.domain.gas.drills import find, read_drills
from shopdesk.domain.gas.gases import read_gases
from shopdesk.domain.gas.orifice import Feed

DRILLS = read_drills(paths.resource("gas", "drills.csv"))
GASES = read_gases(paths.resource("gas", "gases.toml"))
NATURAL = Feed(gravity=0.60, pressure_inwc=3.5, heating_value_btuft3=1000)
PROPANE = Feed(gravity=1.52, pressure_inwc=11, heating_value_btuft3=2516)
_PUBLISHED = Path(__file__).resolve().parent.parent / "data" / "published"


def published(name: str) -> list[dict[str, str]]:
    """The rows of a published table; its source stands in the file's first lines."""
    with (_PUBLISHED / name).open(encoding="utf-8") as stream:
        return list(csv.DictReader(line for line in stream if not line.startswith("#")))


def inches(size: str) -> float:
    return find(DRILLS, size).diameter_in
