"""The form of a proof on one range."""

from collections.abc import Callable, Mapping

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

Make = Callable[[Build, Gases, str], ProofForm]

_FORMS: Mapping[str, Make] = {
    "tightness-bench": lambda _build, _gases, _set: tight.bench(),
    "tightness-assembled": lambda _build, _gases, _set: tight.assembled(),
    "gas-identity": lambda _build, gases, _set: identity.identity(gases),
    "valves": lambda build, _gases, _set: flame.valves(build),
    "pilots": lambda _build, _gases, _set: flame.pilots(),
    "burners": lambda build, _gases, _set: flame.burners(build),
    "input-rate": lambda _build, gases, _set: rate.input_rate(gases),
    "oven-lighting": lambda _build, _gases, _set: flame.oven_lighting(),
    "safety-shutoff": lambda _build, _gases, _set: shut_off.shut_off(),
    "burn-off": lambda _build, _gases, _set: oven.burn_off(),
    "co-oven": lambda build, _gases, _set: monoxide.oven(build),
    "co-burners": lambda build, _gases, _set: monoxide.burners(build),
    "thermostat": lambda _build, _gases, _set: oven.thermostat(),
    "electrical": lambda build, _gases, _set: wiring.wiring(build),
    "doors": lambda build, _gases, _set: stand.doors(build),
    "stance": lambda _build, _gases, _set: stand.stance(),
    "at-home": lambda build, gases, set_to: home.at_home(gases, set_to, "oven pilot" in build.features),
}


def form_of(kind: ProofKind, build: Build, gases: Gases, set_to: str = "") -> ProofForm:
    """The guided form of a proof; one that a shop added itself asks for its readings in words, by eye."""
    if kind.code in _FORMS:
        return _FORMS[kind.code](build, gases, set_to)
    fields = tuple(
        Asked(name=f"reading_{place}", label=name, kind="text", required="Write down what was read.")
        for place, name in enumerate(kind.readings or ("what was seen",), start=1)
    )
    return ProofForm(code=kind.code, fields=fields, judge_values=_nothing_against, by_eye=True)


def _nothing_against(_values: Values) -> Judged:
    return Judged(result=None)
