"""The form of a proof on one range."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import ProofKind
from shopdesk.domain.gas.gases import Gases
from shopdesk.domain.proof_forms import (
    flame,
    home,
    identity,
    monoxide,
    oven,
    rate,
    shut_off,
    stand,
    tight,
    wiring,
)
from shopdesk.domain.proof_forms.asked import Asked, Judged, ProofForm, Values


@dataclass(frozen=True, slots=True)
class OnRange:
    """What a form needs to know of its range. `set_to`: its gas; `unsold`: for resale and nobody's yet."""

    build: Build
    gases: Gases
    set_to: str = ""
    unsold: bool = False


Make = Callable[[OnRange], ProofForm]

_FORMS: Mapping[str, Make] = {
    "tightness-bench": lambda _on: tight.bench(),
    "tightness-assembled": lambda _on: tight.assembled(),
    "gas-identity": lambda on: identity.identity(on.gases, unsold=on.unsold),
    "valves": lambda on: flame.valves(on.build),
    "pilots": lambda _on: flame.pilots(),
    "burners": lambda on: flame.burners(on.build),
    "input-rate": lambda on: rate.input_rate(on.gases),
    "oven-lighting": lambda _on: flame.oven_lighting(),
    "safety-shutoff": lambda _on: shut_off.shut_off(),
    "burn-off": lambda _on: oven.burn_off(),
    "co-oven": lambda on: monoxide.oven(on.build),
    "co-burners": lambda on: monoxide.burners(on.build),
    "thermostat": lambda _on: oven.thermostat(),
    "electrical": lambda on: wiring.wiring(on.build),
    "doors": lambda on: stand.doors(on.build),
    "stance": lambda _on: stand.stance(),
    "at-home": lambda on: home.at_home(on.gases, on.set_to, "oven pilot" in on.build.features),
}


def form_of(kind: ProofKind, on: OnRange) -> ProofForm:
    """The guided form of a proof; one that a shop added itself asks for its readings in words, by eye."""
    if kind.code in _FORMS:
        return _FORMS[kind.code](on)
    fields = tuple(
        Asked(name=f"reading_{place}", label=name, kind="text", required="Write down what was read.")
        for place, name in enumerate(kind.readings or ("what was seen",), start=1)
    )
    return ProofForm(code=kind.code, fields=fields, judge_values=_nothing_against, by_eye=True)


def _nothing_against(_values: Values) -> Judged:
    return Judged(result=None)
