"""What each kind of table in the catalogue's files means, one function per kind."""

from shopdesk.domain.catalogue.entry import Entry
from shopdesk.domain.catalogue.model import (
    Accessory,
    Caution,
    Checkpoint,
    Figures,
    Finding,
    OutworkUse,
    PartUse,
    ProofKind,
    Purpose,
    Scope,
    Severity,
    Task,
    Way,
    Zone,
)
from shopdesk.domain.catalogue.references import HOLDS, PARTS, STAGES, check_applies
from shopdesk.domain.money import Spread


def read_zone(entry: Entry) -> Zone:
    """A zone; its place in the walk is its place in the file and given by the caller."""
    return Zone(entry.code(), entry.text("name"), 0)


def read_checkpoint(entry: Entry) -> Checkpoint:
    code = entry.code()
    findings = tuple(_read_finding(below, code) for below in entry.tables("finding", "finding"))
    if not findings:
        entry.refuse("it has no finding.", "Head each with [[checkpoint.finding]].")
    for finding in {f.code for f in findings if sum(f.code == other.code for other in findings) > 1}:
        entry.refuse(f"the finding {finding} is there twice.", "Give one of them another code.")
    return Checkpoint(
        code=code,
        zone=entry.text("zone"),
        name=entry.text("name"),
        tell=entry.text("tell"),
        sound=entry.text("sound"),
        why=entry.text("why"),
        safety=entry.whole("safety", 0, 3),
        findings=findings,
        applies=_read_applies(entry),
        flame=entry.yes("flame"),
        part=entry.one_of("part", PARTS),
        donor=entry.money("donor"),
    )


def _read_finding(entry: Entry, checkpoint: str) -> Finding:
    ways = tuple(_read_way(below) for below in entry.tables("ways", "way"))
    if len({way.key for way in ways}) < len(ways):
        entry.refuse("two of its ways have one key.", "Give each way its own key.")
    finding = Finding(
        code=f"{checkpoint}.{entry.code()}",
        checkpoint=checkpoint,
        name=entry.text("name"),
        severity=_read_severity(entry),
        ways=ways,
        chance=entry.share("chance", 0.0),
        per=entry.text("per", ""),
        decides=entry.text("decides", ""),
        holds=entry.one_of("holds", HOLDS),
        means=entry.text("means", ""),
        only_costs=entry.yes("only_costs", True),
    )
    entry.done()
    return finding


def _read_severity(entry: Entry) -> dict[Purpose, Severity]:
    """A severity for every purpose."""
    below = entry.table_at("severity")
    if below is None:
        entry.refuse("severity is missing.", 'Write severity = { cook = "minor", ... } for each purpose.')
        return dict.fromkeys(Purpose, Severity.NONE)
    severity = {purpose: below.choice(purpose, Severity, Severity.NONE) for purpose in Purpose}
    below.done()
    return severity


def _read_way(entry: Entry) -> Way:
    way = Way(
        key=entry.code("key"),
        scope=entry.choice("scope", Scope, Scope.MECHANICAL),
        tasks=entry.words("tasks"),
        name=entry.text("name", ""),
    )
    if not way.tasks:
        entry.refuse("it names no task.", 'Write tasks = ["..."].')
    entry.done()
    return way


def _read_applies(entry: Entry) -> frozenset[str]:
    words = frozenset(entry.words("applies"))
    wrong = check_applies(words)
    if wrong:
        entry.refuse(wrong, "Use feature words of one build, or leave applies out.")
    return words


def read_task(entry: Entry) -> Task:
    return Task(
        code=entry.code(),
        name=entry.text("name"),
        group=entry.text("group"),
        minutes=_read_hours(entry),
        skills=entry.words("skills"),
        station=entry.text("station", "bench"),
        per=entry.text("per", ""),
        after=entry.words("after"),
        needs=entry.words("needs"),
        then=entry.words("then"),
        proofs=entry.words("proofs"),
        hazards=entry.words("hazards"),
        parts=tuple(_read_part(below) for below in entry.tables("parts", "part")),
        outwork=_read_outwork(entry),
        supplies=entry.text("supplies", ""),
        routine=entry.optional_choice("routine", Scope),
        applies=_read_applies(entry),
        advice=entry.text("advice", ""),
        stage=entry.one_of("stage", STAGES) or "repair",
        holds=entry.words("holds"),
    )


def _read_hours(entry: Entry) -> Spread:
    if not entry.has("hours"):
        entry.refuse("hours are missing.", "Write hours = [0.2, 0.5, 1.0].")
    return entry.minutes("hours")


def _read_part(entry: Entry) -> PartUse:
    part = PartUse(
        name=entry.text("name"),
        each=entry.money("each"),
        count=entry.whole("count", 1, 999, 1),
        per_extent=entry.yes("per_extent", True),
    )
    entry.done()
    return part


def _read_outwork(entry: Entry) -> OutworkUse | None:
    below = entry.table_at("outwork")
    if below is None:
        return None
    outwork = OutworkUse(trade=below.text("trade"), each=below.money("each"), days=below.days("days"))
    below.done()
    return outwork


def read_caution(entry: Entry) -> Caution:
    return Caution(entry.code(), entry.text("name"), entry.text("text"), entry.text("defer_to"))


def read_proof(entry: Entry) -> ProofKind:
    return ProofKind(
        code=entry.code(),
        name=entry.text("name"),
        how=entry.text("how"),
        meets=entry.text("meets"),
        readings=entry.words("readings"),
        basis=entry.text("basis"),
        order=entry.whole("order", 1, 999),
        signable=entry.yes("signable"),
        applies=_read_applies(entry),
        hazards=entry.words("hazards"),
        always=entry.yes("always"),
        at_home=entry.yes("at_home"),
    )


def read_accessory(entry: Entry) -> Accessory:
    return Accessory(entry.code(), entry.text("name"), entry.money("worth"))


def read_figures(entry: Entry) -> Figures:
    finished, feature_worth = entry.table_at("finished"), entry.table_at("feature_worth")
    left_takes, still_sells = entry.table_at("left_takes"), entry.table_at("still_sells")
    figures = Figures(
        cost_per_hour=entry.amount("cost_per_hour"),
        charge_per_hour=entry.amount("charge_per_hour"),
        margin=entry.share("margin"),
        confidence=entry.share("confidence"),
        selling_share=entry.share("selling_share"),
        warranty_share=entry.share("warranty_share"),
        haulage=entry.money("haulage"),
        disposal=entry.money("disposal"),
        correlation=entry.share("correlation"),
        donor_sold_share=entry.share("donor_sold_share"),
        finished={scope.value: finished.money(scope) for scope in Scope} if finished else {},
        unrestored=entry.money("unrestored"),
        feature_worth={word: feature_worth.amount(word) for word in feature_worth.table}
        if feature_worth
        else {},
        claimed_trust=entry.share("claimed_trust"),
        offer_step=entry.amount("offer_step"),
        good_finish=entry.share("good_finish"),
        most_taken=entry.share("most_taken"),
        left_takes=_by_severity(left_takes, Severity.NONE),
        still_sells=_by_severity(still_sells),
    )
    for below in (entry, finished, feature_worth, left_takes, still_sells):
        if below:
            below.done()
    return figures


def _by_severity(entry: Entry | None, *nothing: Severity) -> dict[str, float]:
    """A share for each severity; zero for those named `nothing`, which the file does not write."""
    asked = [severity for severity in Severity if severity not in nothing]
    shares = dict.fromkeys((severity.value for severity in nothing), 0.0)
    return shares | ({severity.value: entry.share(severity.value) for severity in asked} if entry else {})
