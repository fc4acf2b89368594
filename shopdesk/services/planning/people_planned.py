"""The people a plan can count on: what each may do, and when each is not there."""

from shopdesk.domain.planning.calendar import SLOT_MINUTES
from shopdesk.domain.planning.instance import Person, Span
from shopdesk.services.planning.facts import Facts, Hands
from shopdesk.services.planning.suppose import NEW, Hire, Supposed
from shopdesk.services.planning.time_line import BENCH_ROLES, TimeLine, joined

OUTSIDE_SKILL = "licensed"  # a licensed fitter comes from outside when nobody here has the skill


def people_of(facts: Facts, line: TimeLine, supposed: tuple[Supposed, ...]) -> tuple[Person, ...]:
    """Everyone with a skill, and who is supposed to help."""
    made = _People(facts, line)
    found = [made.person(hands) for hands in facts.people]
    found += [made.hired(one) for one in supposed if isinstance(one, Hire)]
    return tuple(person for person in found if person.skills)


class _People:
    def __init__(self, facts: Facts, line: TimeLine) -> None:
        self.facts, self.line = facts, line

    def person(self, hands: Hands) -> Person:
        return Person(
            id=str(hands.id),
            name=hands.name,
            skills=self._skills(hands),
            off=self._off(hands),
        )

    def _skills(self, hands: Hands) -> frozenset[str]:
        """What is written down; someone of the bench without a word about it may do all bench work."""
        every = {skill for task in self.facts.tasks for skill in task.skills}
        own = set(hands.skills)
        if not own and hands.role in BENCH_ROLES:
            own = every - {"owner", "desk"}
        roles = {"owner": {"owner", "desk"}, "desk": {"desk"}, "technician": {"helper"}}
        return frozenset(own | roles[hands.role])

    def _off(self, hands: Hands) -> tuple[Span, ...]:
        spans = [
            (first, min(last, self.line.reach))
            for first, last in self.line.axis.off(hands.week, hands.leave)
            if first < self.line.reach
        ]
        for at, minutes in hands.appointments:
            if at.date() >= self.line.today:
                begin = at.hour * 60 + at.minute
                first = self.line.axis.slot_at(at.date(), begin - begin % SLOT_MINUTES)
                spans.append((first, self.line.axis.slot_at(at.date(), begin + minutes)))
        spans.append((0, self.line.now))
        return joined(spans)

    def hired(self, one: Hire) -> Person:
        every = {skill for task in self.facts.tasks for skill in task.skills} - {
            "owner",
            "desk",
            OUTSIDE_SKILL,
        }
        first = max(self.line.now, self.line.axis.slot_at(one.first_day))
        last = self.line.axis.due_slot(one.last_day)
        end = max(self.line.reach, last)
        return Person(
            id=f"{NEW}hand",
            name=one.name,
            skills=frozenset(one.skills) or frozenset(every) | {"helper"},
            off=joined([(0, first), (last, end + 4000)]),
        )
