"""The condition report of one walk-round."""

from collections.abc import Iterable

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import ConditionReportFacts
from shopdesk.domain.access import Passage
from shopdesk.domain.answers import HOUSE, Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Scope, Severity
from shopdesk.domain.condition import Condition, condition
from shopdesk.domain.problem import Problem
from shopdesk.domain.worth import Verdict
from shopdesk.services import settings, walks
from shopdesk.services.access import access_of
from shopdesk.services.papers.completeness import pieces
from shopdesk.services.papers.condition_advice import Advice, advice
from shopdesk.services.papers.condition_changes import changed
from shopdesk.services.papers.condition_findings import drawings, findings, general_photos, placed
from shopdesk.services.papers.heads import gas_identity, party_facts, range_facts, shop_head
from shopdesk.services.papers.words import evidence_word, in_words, purpose_name, shortened, staff_name
from shopdesk.services.past_sales import valued_for
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.walk import WalkRound
from shopdesk.storage.tables.work import WorkOrder
from shopdesk.wording import say

_NAMED = 6  # of the gravest findings in the sentence on the whole


def report_facts(
    seat: Seat, session: Session, walk: WalkRound, number: str, verdict: Verdict, *, replaces: str = ""
) -> ConditionReportFacts:
    job = walk.job
    look = walks.view_of(session, walk).look
    known = condition(seat.catalogue, look)
    if known.overall is None:
        raise Problem("Nothing is answered on this walk-round yet. Answer at least one checkpoint.")
    rows = placed(known, look.build)
    advised = _advice(seat, session, walk, look, verdict)
    return ConditionReportFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        range=range_facts(job.range, seat.region),
        customer=party_facts(job.customer) if job.customer else None,
        purpose=purpose_name(look.purpose),
        place=walk.place,
        circumstances=walk.circumstances,
        method=_method(seat, session, look),
        examiner=staff_name(session, walk.examiner_id) or seat.acting.name,
        examined_on=walk.on_day,
        catalogue_version=say("version {number}", number=walk.catalogue_version),
        earlier_work=_earlier(seat, job),
        gas=gas_identity(job.range, seat.region),
        findings=findings(session, walk, rows, seat.region),
        overall=known.overall,
        overall_why=_why(known, known.overall),
        drawings=drawings(rows, look.build),
        photos=general_photos(session, walk, seat.region),
        sound=_sound(seat.catalogue, look),
        not_seen=_not_seen(seat.catalogue, known),
        claimed=_claimed(seat.catalogue, look),
        pieces=pieces(seat.catalogue, look, known),
        verdict=advised.verdict,
        verdict_why=advised.why,
        scopes=advised.scopes,
        cautions=advised.cautions,
        not_covered=_not_covered(seat.catalogue, look),
        replaces=replaces,
        changed=changed(seat.catalogue, session, walk, look),
        way_there=_way_there(seat, walk),
    )


def _way_there(seat: Seat, walk: WalkRound) -> tuple[str, ...]:
    """For a customer, or once it was measured: whether the range gets to its kitchen."""
    found = access_of(walk.job.range)
    if walk.job.customer_id is None and found.passage is Passage.NOT_MEASURED:
        return ()
    return tuple(in_words(why, seat.region) for why in found.why)


def _advice(seat: Seat, session: Session, walk: WalkRound, look: Look, verdict: Verdict) -> Advice:
    written = session.scalar(sa.select(WorkOrder.scope).where(WorkOrder.job_id == walk.job_id))
    return advice(
        seat.catalogue,
        look,
        verdict,
        seat.region,
        customers=walk.job.customer_id is not None,
        chosen=Scope(written) if written else None,
        seed=walk.seed,
        figures=valued_for(seat, session, look.build).figures,
    )


def _method(seat: Seat, session: Session, look: Look) -> str:
    """How much was looked at and how it is known; the shop's own sentence follows."""
    walk = look.walk(seat.catalogue)
    by = dict.fromkeys(Evidence, 0)
    for checkpoint in walk:
        by[look.evidence(checkpoint.code)] += 1
    counts = say(
        "A walk round the range by a list of {total} checkpoints: {seen} seen, {tested} tested, {claimed} "
        "known by word only, {unseen} not seen.",
        total=len(walk),
        seen=by[Evidence.SEEN],
        tested=by[Evidence.TESTED],
        claimed=by[Evidence.CLAIMED],
        unseen=by[Evidence.NOT_SEEN],
    )
    return " ".join(t for t in (counts, settings.read(session, settings.Texts).report) if t)


def _earlier(seat: Seat, job: Job) -> str:
    days = [seat.region.day(other.opened_on) for other in job.range.jobs if other.id < job.id]
    return say("Here before: {days}.", days=", ".join(days)) if days else ""


def _why(known: Condition, overall: Severity) -> str:
    """The gravest findings by name; an average would hide them."""
    if overall is Severity.NONE:
        return say(
            "Nothing was found wrong where we looked. {count} checkpoints were not seen.",
            count=len(known.not_seen),
        )
    names = (f"{found.checkpoint.name}: {found.finding.name}" for found in known.worst)
    rule = say("The gravest single finding counts, never an average.")
    return f"{rule} {'; '.join(shortened(names, _NAMED))}."


def _sound(catalogue: Catalogue, look: Look) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What was looked at and nothing found, zone by zone; what was only told stands elsewhere."""
    sound = {a.checkpoint: a.evidence for a in look.answers if a.sound and a.evidence is not Evidence.CLAIMED}
    return _by_zone(
        catalogue,
        [
            (c, f"{c.name} ({evidence_word(sound[c.code])})" if sound[c.code] is Evidence.TESTED else c.name)
            for c in catalogue.checkpoints.values()
            if c.code in sound
        ],
    )


def _not_seen(catalogue: Catalogue, known: Condition) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return _by_zone(catalogue, [(checkpoint, checkpoint.name) for checkpoint in known.not_seen])


def _by_zone(
    catalogue: Catalogue, named: Iterable[tuple[Checkpoint, str]]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    by_zone: dict[str, list[str]] = {}
    for checkpoint, name in named:
        by_zone.setdefault(checkpoint.zone, []).append(name)
    zones = sorted(by_zone, key=lambda code: catalogue.zones[code].order)
    return tuple((catalogue.zones[code].name, tuple(by_zone[code])) for code in zones)


def _claimed(catalogue: Catalogue, look: Look) -> tuple[str, ...]:
    """What somebody said and nobody showed."""
    claimed = [a for a in look.answers if a.evidence is Evidence.CLAIMED]
    said = []
    for answer in claimed:
        name = catalogue.checkpoints[answer.checkpoint].name
        what = catalogue.findings[answer.finding].name if answer.finding else say("said to be sound")
        note = f" ({answer.note})" if answer.note else ""
        said.append(f"{name}: {what}{note}")
    return tuple(said)


def _not_covered(catalogue: Catalogue, look: Look) -> tuple[str, ...]:
    unlit = [c for c in look.walk(catalogue) if c.flame and look.evidence(c.code) is not Evidence.TESTED]
    told = [say("What it is worth: figures named here are the trade's, no valuation for insurance or sale.")]
    if unlit:
        told.append(say("How it burns and heats: what needs a flame was not all tested."))
    if not any(c.zone == HOUSE for c in look.walk(catalogue)):
        told.append(say("The house it will go to: gas, pressure, clearance and air are looked at there."))
    return tuple(told)
