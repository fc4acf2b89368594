"""The places of the window, in the order of the rail, and the pages that make them.

A place whose page did not come with this program is not shown. Pages are imported when first opened,
because they bring the services with them.
"""

from dataclasses import dataclass
from importlib import import_module
from importlib.util import find_spec

from shopdesk.ui.context import Context
from shopdesk.ui.pages.page import Page
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Place:
    """`module` and `page` name the class; `title` carries the Alt letter; a `hidden` place has no button."""

    key: str
    title: str
    icon: str
    module: str
    page: str
    hidden: bool = False

    @property
    def name(self) -> str:
        """The title without its Alt letter."""
        return self.title.replace("&", "")

    def make(self, context: Context) -> Page:
        made = getattr(import_module(self.module), self.page)(context)
        assert isinstance(made, Page)
        return made


def all_places() -> tuple[Place, ...]:
    """Every place the program may have; page classes live in `shopdesk/ui/pages/<folder>/page.py`."""
    home = "shopdesk.ui.pages"
    return (
        Place("floor", say("&Floor"), "floor", f"{home}.floor.page", "FloorPage"),
        Place("walk-round", say("&Walk-round"), "walk-round", f"{home}.walk_round.page", "WalkRoundPage"),
        Place("bench", say("&Bench"), "bench", f"{home}.bench.page", "BenchPage"),
        Place("stores", say("&Stores"), "stores", f"{home}.stores.page", "StoresPage"),
        Place("plan", say("Pl&an"), "plan", f"{home}.plan.page", "PlanPage"),
        Place("counter", say("&Counter"), "counter", f"{home}.counter.page", "CounterPage"),
        Place("reckoning", say("R&eckoning"), "reckoning", f"{home}.reckoning.page", "ReckoningPage"),
        Place("set-up", say("Set-&up"), "set-up", f"{home}.set_up.page", "SetUpPage"),
        Place("proving", say("Proofs"), "proof", f"{home}.proving.page", "ProvingPage", hidden=True),
        Place("gas-bench", say("Gas bench"), "gas", f"{home}.gas_bench.page", "GasBenchPage", hidden=True),
        Place("tags", say("What is where"), "tag", f"{home}.tags.page", "TagsPage", hidden=True),
        Place(
            "thermostat-card",
            say("Thermostat card"),
            "flame",
            f"{home}.thermostat_card.page",
            "ThermostatCardPage",
            hidden=True,
        ),
        Place(
            "first-hour", say("First hour"), "next", f"{home}.first_hour.page", "FirstHourPage", hidden=True
        ),
        Place(
            "standing", say("Where it stands"), "mail", f"{home}.standing.page", "StandingPage", hidden=True
        ),
        Place("jacket", say("Jacket"), "jacket", f"{home}.jacket.page", "JacketPage", hidden=True),
    )


def places() -> tuple[Place, ...]:
    """The places whose pages are here."""
    return tuple(place for place in all_places() if _is_here(place.module))


def _is_here(module: str) -> bool:
    try:
        return find_spec(module) is not None
    except ModuleNotFoundError:
        return False
