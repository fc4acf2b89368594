"""Invented readings for the demo's proofs, such as a good test gives; no real range was ever measured."""

from typing import Any

from shopdesk.domain.proof_forms.asked import Asked, ProofForm
from shopdesk.domain.quantity import Quantity

_KNOWN: dict[str, dict[str, Any]] = {
    "tightness-bench": {
        "start_inwc": 12.0, "end_inwc": 12.0, "minutes": 10.0, "resolution_inwc": 0.05, "start_f": 68.0,
        "end_f": 68.0, "thermometer_f": 0.1, "bubbles": "none", "joints": "every cap, stem and plug",
    },
    "tightness-assembled": {
        "method": "gauge", "start_inwc": 6.8, "end_inwc": 6.9, "minutes": 10.0, "resolution_inwc": 0.1,
        "start_f": 68.0, "end_f": 68.1, "thermometer_f": 0.1, "bubbles": "none", "joints": "all, each ticked",
        "detector": "none", "hot": True,
    },
    "gas-identity": {
        "plate_gas": "natural", "spud_gas": "natural", "house_gas": "natural", "set_gas": "natural",
        "label_gas": "natural", "manifold_inwc": 4.0, "inlet_inwc": 6.9, "resolution_inwc": 0.1,
    },
    "pilots": {"tried": 2.0, "lowest_in": 0.375, "highest_in": 0.375, "steady": "yes"},
    "input-rate": {
        "what": "all burners", "dial_cuft": 0.5, "turns": 4.0, "seconds": 120.0, "gas": "natural",
        "heating_value": 1000.0, "plate_btuh": 60000.0,
    },
    "safety-shutoff": {
        "hold_in_s": 35.0, "shut_off_s": 41.0, "passing": "nothing", "element_mv": 28.0, "limit_s": 60.0,
        "hold_limit_s": 60.0, "limit_from": "the valve's own sheet (demo)",
    },
    "burn-off": {"minutes": 120.0, "smoke": "yes", "smell": "yes", "handles": "yes"},
    "thermostat": {
        "cycles_300": ((286.0, 327.0), (285.0, 328.0), (286.0, 327.0)),
        "cycles_350": ((338.0, 380.0), (337.0, 381.0), (338.0, 380.0)),
        "cycles_450": ((440.0, 482.0), (441.0, 481.0), (440.0, 482.0)),
        "boiling_f": 211.6, "resolution_f": 0.5, "hold_flame": "whole", "off_closes": "yes",
    },
    "electrical": {
        "ohm": 0.06, "gauge_awg": 16.0, "length_ft": 6.0, "megohm": 100.0, "volts": 500.0, "shell": "yes",
        "switch": "yes", "blade": "yes", "leakage_ma": 0.08,
    },
    "stance": {
        "rocks": "yes", "level_across": "yes", "level_deep": "yes", "legs": "yes", "slips": 0.0,
    },
    "at-home": {
        "connector": "yes", "supply_gas": "natural", "no_flow_inwc": 7.6, "full_flow_inwc": 7.1,
        "minimum_inwc": 5.0, "resolution_inwc": 0.1, "leak": "none", "lit": "yes", "room_ppm": 3.0,
        "alarm": "yes", "shown": "yes", "shut_off_s": 43.0, "limit_s": 60.0,
        "limit_from": "the valve's own sheet (demo)", "licence": "demo 0000",
    },
}  # fmt: skip
_COUNTED = {"stiff": 0.0, "passing": 0.0, "failed": 0.0, "tried": 12.0}
_TIMED = {"longest_s": 2.0, "cold_s": 3.0, "hot_s": 2.0}
_ANSWERS = ("yes", "blue", "whole", "none", "nothing")


def readings_of(form: ProofForm) -> dict[str, Any]:
    """A value for each reading that the proof needs on this range, such as a good test gives."""
    known = _KNOWN.get(form.code, {})
    given: dict[str, Any] = {}
    for asked in form.fields:
        value = known.get(asked.name) if known else _made_up(asked)
        if value is not None:
            given[asked.name] = value
    return given


def _made_up(asked: Asked) -> Any:
    by_name = {**_COUNTED, **_TIMED, "scale": "as measured"}
    if asked.name in by_name:
        return by_name[asked.name]
    if asked.kind == "choice":
        return next((code for code, _ in asked.choices if code in _ANSWERS), None)
    if asked.kind in ("tick", "text"):
        return True if asked.kind == "tick" else "demo entry"
    return _a_figure(asked)


def _a_figure(asked: Asked) -> float | None:
    if asked.name.startswith("co_ppm"):
        return 24.0 + len(asked.label) % 7
    figures = {Quantity.PERCENT: 11.2, Quantity.MINUTES: 20.0, Quantity.PPM: 1.0}
    return figures.get(asked.quantity)
