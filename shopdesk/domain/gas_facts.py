"""Gas identity on a walk-round: five facts kept apart, and whether what is known of them agrees.

Plate, spuds found, supply with its pressure, what it is set to, and the label may each name another gas.
That they do not agree is a finding of its own, filed from the facts themselves. Knows nothing of where
the facts are kept; the proof of gas identity has its own, stricter form.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.gas.gases import Gas, Gases
from shopdesk.domain.measured import Sentence, figure, sentence
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import HALF_PSI_INWC

CHECKPOINT, FINDING = "gas-on-plate", "gas-on-plate.disagree"
PLATE, SUPPLY = "gas_on_plate", "house_gas"
FACTS = {
    PLATE: "On the plate: {gas}.",
    "spuds_found": "Spuds found: {gas}.",
    SUPPLY: "Supply at the house: {gas}.",
    "set_to_gas": "Set to: {gas}.",
    "gas_label": "Label on the range: {gas}.",
}
"""The five facts in the order in which they are told."""


@dataclass(frozen=True, slots=True)
class Disagreement:
    """The facts that are known, a sentence each, and how their disagreeing is known."""

    says: tuple[Sentence, ...]
    evidence: Evidence


def disagreement(
    named: Mapping[str, str], pressure_inwc: float | None, gases: Gases, converted_to: str = ""
) -> Disagreement | None:
    """What does not agree; None while nothing known speaks against the rest.

    `named`: the gas of each fact by its code, empty or left out where it is not known. `converted_to`: the
    gas a licensed fitter decided to convert to; the plate then names the gas from before. The supply is
    what somebody said of the house, so a disagreement that hangs on it is claimed; all else was seen.
    """
    known = {name: named[name] for name in FACTS if named.get(name)}
    counted = dict(known)
    if converted_to:
        counted.pop(PLATE, None)
        counted.setdefault("set_to_gas", converted_to)
    said = set(counted.values())
    only = next(iter(said)) if len(said) == 1 else ""
    pressure = _pressure(pressure_inwc, gases.get(known.get(SUPPLY) or only))
    if len(said) < 2 and pressure is None:
        return None
    told = [sentence(FACTS[name], gas=gases[gas].name) for name, gas in known.items()]
    apart = {gas for name, gas in counted.items() if name != SUPPLY}
    evidence = Evidence.SEEN if len(apart) > 1 else Evidence.CLAIMED
    return Disagreement((*told, *([pressure] if pressure else [])), evidence)


def _pressure(read: float | None, gas: Gas | None) -> Sentence | None:
    """A supply pressure that does not fit its gas.

    Too low: less than is customary at the manifold for that gas (the table of gases names the source).
    Too high: above 1/2 psi, for which appliance regulators are commonly rated (appliance instructions).
    """
    if read is None or gas is None:
        return None
    facts = {"gas": gas.name, "read": figure(read, 2, Quantity.PRESSURE)}
    if read < gas.pressure_low_inwc:
        least = figure(gas.pressure_low_inwc, 2, Quantity.PRESSURE)
        text = "Supply pressure: {read} in w.c., less than the {least} in w.c. customary for {gas}."
        return sentence(text, least=least, **facts)
    if read > HALF_PSI_INWC:
        text = "Supply pressure: {read} in w.c., above 1/2 psi (13.8 in w.c.)."
        return sentence(text, **facts)
    return None


def with_finding(look: Look, found: Disagreement | None) -> Look:
    """A look with the disagreement as its finding, in place of "sound" there."""
    if found is None or any(answer.finding == FINDING for answer in look.answers):
        return look
    others = tuple(a for a in look.answers if a.checkpoint != CHECKPOINT or a.finding is not None)
    return replace(look, answers=(*others, Answer(CHECKPOINT, FINDING, evidence=found.evidence)))
