"""The gas bench without widgets: its calculators, the kinds in order, and what a conversion leads to."""

from collections.abc import Mapping, Sequence
from typing import Any

from shopdesk.domain.gas.calculators import Calculator, Reckoned, calculators
from shopdesk.domain.gas.whole_range import Plan, plan_conversion
from shopdesk.domain.problem import Problem
from shopdesk.services import gas_tables
from shopdesk.services.gas_bench import OnOrder
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import say_problem_in

ALONE = ("Burner 1", "Burner 2", "Burner 3", "Burner 4", "Burner 5", "Burner 6")
"""Burners of a conversion that belongs to no range of the shop."""


def all_calculators() -> tuple[Calculator, ...]:
    return calculators(gas_tables.gases(), gas_tables.drills())


def reckoned(calculator: Calculator, values: Mapping[str, Any], region: Region) -> Reckoned | str:
    """The answer to what can be read by now, or the sentence of what is still wanted."""
    try:
        return calculator.reckon(values)
    except Problem as problem:
        return say_problem_in(problem, region)


def planned(values: Mapping[str, Any], burners: Sequence[str], region: Region) -> Plan | str:
    try:
        return plan_conversion(values, burners, gas_tables.gases(), gas_tables.drills())
    except Problem as problem:
        return say_problem_in(problem, region)


def on_order_words(done: OnOrder) -> str:
    """What was put on the order, and whose consent it waits for."""
    if not done.added:
        return say("The conversion is on record; its tasks stood on the order already.")
    names = ", ".join(done.added)
    if done.change_order:
        text = "On the order: {tasks}. Change order {number} waits for the customer’s consent."
        return say(text, tasks=names, number=done.change_order)
    return say("On the order: {tasks}.", tasks=names)
