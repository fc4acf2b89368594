"""Small shops for the planning tests: builders with defaults, and drawn ones for properties."""

from hypothesis import strategies as st

from shopdesk.domain.planning.instance import After, Instance, Person, Range, Station, Task


def a_task(name: str, slots: int = 2, **facts: object) -> Task:
    known: dict[str, object] = {"id": name, "name": name, "range_id": "r", "slots": slots}
    return Task(**(known | facts))  # type: ignore[arg-type]


def a_shop(*tasks: Task, due: int | None = 0, **facts: object) -> Instance:
    """One range and one person who can do everything, unless said otherwise."""
    known: dict[str, object] = {
        "tasks": tasks,
        "ranges": (Range(id="r", name="The green range", due=due),),
        "people": (Person(id="ida", name="Ida", skills=frozenset({"gas", "wiring"})),),
    }
    return Instance(**(known | facts))  # type: ignore[arg-type]


def after(*names: str, lag: int = 0) -> tuple[After, ...]:
    return tuple(After(task=name, lag=lag) for name in names)


@st.composite
def shops(draw: st.DrawFn) -> Instance:
    """A shop of up to four ranges with everything a task may ask for; it may have no plan at all."""
    skills = ("gas", "wiring")
    spans = st.lists(st.tuples(st.integers(0, 20), st.integers(1, 6)), max_size=2)
    people = tuple(
        Person(
            id=f"p{p}",
            name=f"Person {p}",
            skills=frozenset(skills) if p == 0 else frozenset(draw(st.sets(st.sampled_from(skills)))),
            off=tuple((first, first + length) for first, length in draw(spans)),
        )
        for p in range(draw(st.integers(1, 3)))
    )
    stations = (
        Station(id="bay", name="Bay", capacity=2, off=((3, 5),)),
        Station(id="oven", name="Oven"),
    )
    ranges = tuple(
        Range(
            id=f"r{r}",
            name=f"Range {r}",
            due=draw(st.none() | st.integers(0, 20)),
            weight=draw(st.integers(0, 3)),
        )
        for r in range(draw(st.integers(1, 4)))
    )
    tasks: list[Task] = []
    for n in range(draw(st.integers(1, 9))):
        by_hand = draw(st.integers(0, 3)) > 0
        before = draw(st.sets(st.sampled_from([task.id for task in tasks]), max_size=2)) if tasks else set()
        slots = draw(st.integers(0, 5))
        tied = draw(st.sampled_from([task.id for task in tasks if task.by_hand] or [None]))
        tasks.append(
            Task(
                id=f"t{n}",
                name=f"task {n}",
                range_id=draw(st.sampled_from([each.id for each in ranges])),
                slots=slots,
                by_hand=by_hand,
                skills=frozenset(draw(st.sets(st.sampled_from(skills), max_size=1)))
                if by_hand
                else frozenset(),
                uses=draw(st.sampled_from(((), (), (("bay", 1),), (("bay", 2),), (("bay", 1), ("oven", 1))))),
                after=tuple(After(task=name, lag=draw(st.integers(0, 4))) for name in sorted(before)),
                earliest=draw(st.integers(0, 6)),
                starts=draw(st.sampled_from((None, None, None, tuple(range(0, 200, 7))))),
                pinned_start=draw(st.sampled_from((None,) * 9 + (25,))),
                pinned_person=draw(st.sampled_from((None, None, None, "p0"))) if by_hand else None,
                same_hand=tied if by_hand and draw(st.integers(0, 4)) == 0 else None,
            )
        )
    return Instance(tasks=tuple(tasks), ranges=ranges, people=people, stations=stations)
