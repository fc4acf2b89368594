"""Finish grades, surface by surface: what "restored" means on this job, and what stays as it is.

People mean different things by "restored"; a list of surfaces with a grade each, settled before the
deposit, is the only definition both sides can hold on to (common practice, no source).
"""

from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Scope


class Grade(StrEnum):
    """How far a surface is taken."""

    AS_IT_IS = "as it is"
    CLEANED = "cleaned"
    POLISHED = "polished"
    TOUCHED_UP = "touched up"
    SEASONED = "stripped and seasoned"
    RE_PLATED = "re-plated"
    RE_ENAMELLED = "re-enamelled"
    RENEWED = "renewed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """One surface and its grade; `note`: what may still show, a colour, a sample."""

    surface: str
    grade: Grade
    note: str = ""


_E, _S = Grade.RE_ENAMELLED, Grade.SEASONED
_EVERYDAY = {"enamel": Grade.TOUCHED_UP, "plating": Grade.POLISHED, "iron": _S, "fittings": Grade.CLEANED}
_SHOW = {"enamel": _E, "plating": Grade.RE_PLATED, "iron": _S, "fittings": Grade.POLISHED}
_MECHANICAL = {"iron": Grade.CLEANED}
_BY_SCOPE = {Scope.MECHANICAL: _MECHANICAL, Scope.EVERYDAY: _EVERYDAY, Scope.SHOW: _SHOW}

# surface, what it is made of, and the feature a range needs to have it; empty: every range
_SURFACES = (
    ("front panels", "enamel", ""),
    ("side panels", "enamel", ""),
    ("back panel", "enamel", "back"),
    ("shelf", "enamel", "shelf"),
    ("top and lids", "enamel", ""),
    ("oven door, outside", "enamel", ""),
    ("oven box and door, inside", "enamel", ""),
    ("drawer and broiler fronts", "enamel", "broiler"),
    ("plated trim", "plating", ""),
    ("handles and knobs", "plating", ""),
    ("grates", "iron", ""),
    ("griddle", "iron", "griddle"),
    ("burner castings", "iron", ""),
    ("lamp", "fittings", "lamp"),
    ("clock", "fittings", "clock"),
    ("legs", "enamel", "legs"),
    ("base frame", "fittings", "base"),
)


def surfaces(build: Build) -> tuple[str, ...]:
    """The surfaces of a range of this build, in the order of a walk."""
    return tuple(name for name, _, needs in _SURFACES if not needs or needs in build.features)


def proposed(build: Build, scope: Scope) -> tuple[Finish, ...]:
    """What a scope usually means for each surface; to be gone through with the customer."""
    usual = _BY_SCOPE[scope]
    return tuple(
        Finish(surface=name, grade=usual.get(made_of, Grade.AS_IT_IS))
        for name, made_of, needs in _SURFACES
        if not needs or needs in build.features
    )
