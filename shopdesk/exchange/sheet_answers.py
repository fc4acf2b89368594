"""The answers of a sheet: checkpoints found sound, and findings."""

from shopdesk.domain.answers import MOST, Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Evidence, Finding
from shopdesk.exchange.sheet_entry import Entry, nearest, shortened

_SOUND = {"sound": Evidence.SEEN, "tested": Evidence.TESTED, "claimed": Evidence.CLAIMED}
_FIELDS = ("code", "extent", "evidence", "note", "way")
_EVIDENCE = [e.value for e in (Evidence.CLAIMED, Evidence.SEEN, Evidence.TESTED)]


def read_answers(entry: Entry, catalogue: Catalogue, build: Build) -> tuple[Answer, ...]:
    """All answers that can be kept; the rest leave a Problem each."""
    found: dict[str, Answer] = {}
    for table in entry.each("finding"):
        answer = _finding(table, catalogue, build)
        if answer is None or answer.finding is None:
            continue
        if answer.finding in found:
            table.refuse("{code} stands here twice. Count several in its extent.", code=answer.finding)
        else:
            found[answer.finding] = answer
    return (*_sound(entry, catalogue, build, {a.checkpoint for a in found.values()}), *found.values())


def _sound(entry: Entry, catalogue: Catalogue, build: Build, with_findings: set[str]) -> list[Answer]:
    kept: dict[str, Answer] = {}
    for key, evidence in _SOUND.items():
        for code in entry.codes(key, catalogue.checkpoints, "checkpoint"):
            if code in with_findings:
                entry.refuse(
                    "{key} names {code}, which also has a finding. Keep one of the two.", key=key, code=code
                )
            elif code in kept:
                entry.refuse(
                    "{code} stands in more than one of sound, tested and claimed. Keep one.", code=code
                )
            elif _fits(entry, catalogue, build, code):
                kept[code] = Answer(code, evidence=evidence)
    return list(kept.values())


def _finding(entry: Entry, catalogue: Catalogue, build: Build) -> Answer | None:
    entry.only(_FIELDS)
    code = entry.text("code")
    finding = catalogue.findings.get(code)
    if finding is None:
        entry.refuse(
            "the catalogue has no finding {code}. {hint}",
            code=shortened(code) or '""',
            hint=nearest(code, catalogue.findings) or "Write the checkpoint's code, a dot, and the finding.",
        )
        return None
    kept = Entry(entry.table, f"{entry.name} ({code})", entry.trouble)
    before = len(entry.trouble.problems)
    answer = Answer(
        checkpoint=finding.checkpoint,
        finding=code,
        extent=kept.whole("extent", 1, 1, MOST),
        evidence=Evidence(kept.word("evidence", _EVIDENCE, Evidence.SEEN.value)),
        note=kept.text("note"),
        way=_way(kept, finding),
    )
    fits = _fits(kept, catalogue, build, finding.checkpoint)
    return answer if fits and len(entry.trouble.problems) == before else None


def _way(entry: Entry, finding: Finding) -> str:
    way = entry.text("way")
    keys = [w.key for w in finding.ways]
    if way and way not in keys:
        entry.refuse(
            "it is not put right by the way {way}. It has: {ways}.",
            way=shortened(way),
            ways=", ".join(keys) or "none",
        )
        return ""
    return way


def _fits(entry: Entry, catalogue: Catalogue, build: Build, code: str) -> bool:
    """Whether a range built like this has the checkpoint at all."""
    checkpoint = catalogue.checkpoints[code]
    if checkpoint.fits(build):
        return True
    lacking = sorted(checkpoint.applies - build.features)
    entry.refuse(
        "{code} belongs to ranges with: {features}. Say so in [range], or leave it out.",
        code=code,
        features=", ".join(lacking),
    )
    return False
