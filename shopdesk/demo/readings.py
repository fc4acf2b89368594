"""Invented readings for the demo's proofs; no real range was ever measured."""

from collections.abc import Sequence

_READINGS: dict[str, dict[str, str]] = {
    "tightness-bench": {
        "start pressure (in w.c.)": "12.0",
        "end pressure (in w.c.)": "12.0",
        "minutes": "10",
        "start temperature (F)": "68.0",
        "end temperature (F)": "68.0",
        "gauge resolution (in w.c.)": "0.1",
        "joints with bubbles": "none",
    },
    "tightness-assembled": {
        "start pressure (in w.c.)": "6.8",
        "end pressure (in w.c.)": "6.8",
        "minutes": "10",
        "start temperature (F)": "68.0",
        "end temperature (F)": "68.1",
        "gauge resolution (in w.c.)": "0.1",
        "joints tried": "all, each ticked",
        "joints with bubbles": "none",
        "detector reading": "none",
        "repeated hot": "yes, the same",
    },
    "gas-identity": {
        "plate gas": "natural",
        "spuds found": "natural",
        "house gas": "natural",
        "inlet pressure (in w.c.)": "6.9",
        "manifold pressure (in w.c.)": "4.0",
        "set to": "natural",
        "label": "natural, 4 in w.c.",
    },
    "valves": {"valves tried": "all", "valves stiff": "none", "valves passing when off": "none"},
    "pilots": {"pilots tried": "2", "flame height (in)": "3/8", "steady in a draught": "yes"},
    "burners": {
        "burners tried": "all",
        "longest lighting (s)": "2",
        "flame": "blue, steady",
        "low holds": "yes, door slammed",
    },
    "oven-lighting": {"cold, longest (s)": "3", "hot, longest (s)": "2", "failed tries": "none"},
    "safety-shutoff": {
        "hold-in (s)": "35",
        "shut-off (s)": "41",
        "limit (s)": "60",
        "limit from": "the valve's own sheet (demo)",
        "element (mV)": "28",
        "passing after shut-off": "nothing",
    },
    "burn-off": {"minutes": "120", "smoke ended": "after 70 minutes", "handles": "can be touched"},
    "co-oven": {
        "carbon monoxide (ppm)": "38",
        "oxygen (%)": "11.2",
        "scale": "as measured",
        "minutes": "20",
        "room before (ppm)": "0",
        "room highest (ppm)": "2",
    },
    "co-burners": {
        "highest burner (ppm)": "24",
        "oxygen (%)": "14.0",
        "scale": "as measured",
        "burners tried": "all",
        "room before (ppm)": "0",
        "room highest (ppm)": "2",
    },
    "thermostat": {
        "at 300, mean (F)": "306",
        "at 350, mean (F)": "359",
        "at 450, mean (F)": "461",
        "widest swing (F)": "42",
        "boiling water (F)": "211.6",
        "hold flame": "small, whole burner",
        "off closes": "yes",
    },
    "electrical": {
        "earth (ohm)": "0.14",
        "insulation (megohm)": "over 100",
        "leakage (mA)": "0.08",
        "polarity": "shell on the neutral",
        "tester": "demo tester 4",
    },
    "doors": {"doors tried": "all", "strip drags": "all round", "holds 10 lb": "yes", "handles": "no play"},
    "stance": {"level, left to right": "level", "level, front to back": "level", "lift slips": "no"},
    "at-home": {
        "supply gas": "natural",
        "supply pressure (in w.c.)": "7.1",
        "leak check": "no bubbles, no reading",
        "all lit": "yes",
        "safety shut-off (s)": "43",
        "room highest (ppm)": "3",
        "alarm present": "yes",
        "fitter": "demo fitter",
        "licence": "demo 0000",
    },
}


def readings_of(proof: str, asked: Sequence[str]) -> dict[str, str]:
    """A value for each reading a proof asks for; what has none here is told as looked at."""
    known = _READINGS.get(proof, {})
    return {name: known[name] for name in asked if name in known} or {"looked at": "yes"}
