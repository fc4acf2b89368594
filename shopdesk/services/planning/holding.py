"""What stays in place: clocks that run, work begun, pins."""

from collections.abc import Mapping
from dataclasses import replace

from shopdesk.domain.planning.instance import Person, Task
from shopdesk.services.planning.facts import Facts
from shopdesk.services.planning.open_tasks import OpenTask
from shopdesk.services.planning.suppose import NEW, HoldTask, Supposed
from shopdesk.services.planning.time_line import TimeLine


class Holding:
    """Holds pieces where they are; `tasks` says which task a piece is of."""

    def __init__(
        self, facts: Facts, line: TimeLine, supposed: tuple[Supposed, ...], people: tuple[Person, ...],
        tasks: Mapping[str, OpenTask],
    ) -> None:  # fmt: skip
        self.facts, self.line, self.supposed, self.people, self.tasks = facts, line, supposed, people, tasks

    def held(self, pieces: list[Task]) -> list[Task]:
        """Clocks that run, work begun, pins: the first sitting where it is, all with their person."""
        first: dict[str, int] = {}
        for place, piece in enumerate(pieces):
            if piece.by_hand:
                first.setdefault(piece.id.partition("/")[0], place)
        pins = {str(task): (pin.staff_id, pin.day, pin.minute) for task, pin in self.facts.pins.items()}
        for one in self.supposed:
            if isinstance(one, HoldTask):
                pins[str(one.task_id)] = (one.staff_id, one.day, one.minute)
        running: set[str] = set()
        held = list(pieces)
        for place, piece in enumerate(pieces):
            root = piece.id.partition("/")[0]
            task = self.tasks[piece.id]
            if not piece.by_hand or root.startswith(NEW):
                continue
            who, day, minute = pins.get(root, (None, None, None))
            leads = first[root] == place
            clock = str(task.running_staff_id) if task.running_staff_id else None
            if clock and leads and clock not in running and self._may(clock):
                running.add(clock)
                start = self._free_from(clock, piece.slots)
                held[place] = replace(piece, started=True, pinned_start=start, pinned_person=clock)
                continue
            kept = str(who) if who else str(task.hand_staff_id) if task.begun and task.hand_staff_id else None
            if kept and not self._may(kept):
                kept = None
            start_at = self.line.axis.slot_at(day, minute or 0) if day is not None and leads else None
            if start_at is not None and start_at < self.line.now:
                start_at = None
            skills = piece.skills if kept is None or who is None else frozenset[str]()
            people = piece.people if who is None else None
            held[place] = replace(
                piece, pinned_person=self._able(kept, piece, who is not None), pinned_start=start_at,
                skills=skills, people=people,
            )  # fmt: skip
        return held

    def _may(self, person: str) -> bool:
        return any(each.id == person for each in self.people)

    def _able(self, kept: str | None, piece: Task, by_pin: bool) -> str | None:
        """Who began keeps the work if they still may; the owner's pin holds whatever is on paper."""
        if kept is None or by_pin:
            return kept
        person = next(each for each in self.people if each.id == kept)
        allowed = piece.people is None or kept in piece.people
        return kept if allowed and piece.skills <= person.skills else None

    def _free_from(self, person: str, slots: int) -> int:
        """The first slot from now in which this person can go on."""
        off = next(each.off for each in self.people if each.id == person)
        start = self.line.now
        for first, last in off:
            if first < start + slots and last > start:
                start = last
        return start
