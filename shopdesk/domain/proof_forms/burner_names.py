"""What the burners of a range are called, from its build."""

from shopdesk.domain.build import Build

_TOP = {
    2: ("Left burner", "Right burner"),
    4: ("Left front burner", "Left rear burner", "Right front burner", "Right rear burner"),
}


def top_burners(build: Build) -> tuple[str, ...]:
    """Top burners, then griddle and well where there is one."""
    top = _TOP.get(build.burners) or tuple(f"Top burner {n}" for n in range(1, build.burners + 1))
    more = [
        name for name, there in (("Griddle burner", build.griddle), ("Well burner", build.deep_well)) if there
    ]
    return (*top, *more)


def oven_burners(build: Build) -> tuple[str, ...]:
    """Ovens, then the broiler."""
    ovens = (
        ("Oven burner",) if build.ovens == 1 else tuple(f"Oven burner {n}" for n in range(1, build.ovens + 1))
    )
    return (*ovens, "Broiler burner") if build.broiler else ovens


def all_burners(build: Build) -> tuple[str, ...]:
    return (*top_burners(build), *oven_burners(build))
