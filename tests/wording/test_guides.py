"""The catalogue's guides in a metric shop."""

import re

import pytest

from shopdesk import paths
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.wording import Region
from shopdesk.wording.guides import guide_in_units

_US = r"\d (?:in w\.c\.|F|in|lb|ft|psig)\b"
METRIC = Region(units="metric")


@pytest.mark.parametrize(
    ("written", "metric"),
    [
        ("Pump air to 10 to 14 in w.c.; never above", "Pump air to 24.9 to 34.9 mbar; never above"),
        ("About 4 in w.c. for natural gas.", "About 10 mbar for natural gas."),
        ("Read 4 in w.c. Then light it.", "Read 10 mbar. Then light it."),
        ("300, 350 and 450 F, half an hour each", "149, 177 and 232 °C, half an hour each"),
        (
            "Within 25 F. A swing of 50 F.",
            "Within 13.9 °C. A swing of 27.8 °C.",
        ),
        ("A flame of 1/4 to 1/2 in, blue", "A flame of 6.3 to 12.7 mm, blue"),
        ("Probe 8 in above each burner", "Probe 203 mm above each burner"),
        ("10 lb on the open door", "4.5 kg on the open door"),
        ("3 psig is for house piping", "207 mbar is for house piping"),
    ],
)
def test_figures_are_turned_with_their_unit(written: str, metric: str) -> None:
    assert guide_in_units(written, METRIC) == metric
    assert guide_in_units(written, Region()) == written


def test_no_guide_of_a_proof_is_left_with_a_us_unit() -> None:
    catalogue = read_catalogue(paths.resource("catalogue"))
    for kind in catalogue.proofs.values():
        for text in (kind.how, kind.meets):
            assert not re.search(_US, guide_in_units(text, METRIC)), kind.code


def test_no_caution_checkpoint_or_advice_is_left_with_a_us_unit() -> None:
    catalogue = read_catalogue(paths.resource("catalogue"))
    texts = [caution.text for caution in catalogue.cautions.values()]
    texts += [text for c in catalogue.checkpoints.values() for text in (c.tell, c.why)]
    texts += [task.advice for task in catalogue.tasks.values()]
    left = [text for text in texts if re.search(_US, guide_in_units(text, METRIC))]
    assert left == []
