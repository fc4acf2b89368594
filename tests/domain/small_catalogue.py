"""Builders of small catalogues and random looks, with defaults where a test does not care."""

from collections.abc import Iterable

from hypothesis import strategies as st

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import (
    Accessory,
    Catalogue,
    Checkpoint,
    Evidence,
    Figures,
    Finding,
    ProofKind,
    Purpose,
    Scope,
    Severity,
    Task,
    Way,
    Zone,
)
from shopdesk.domain.money import Spread

HOUR = Spread(30, 60, 120)


def a_task(code, **facts):
    facts = {"minutes": HOUR, "skills": ("bench",), "group": "Work", **facts}
    return Task(code=code, name=code.replace("-", " ").capitalize(), **facts)


def a_finding(code, *tasks, scope=Scope.MECHANICAL, severity=Severity.MINOR, ways=None, **facts):
    if ways is None:
        ways = (Way("repair", scope, tasks),) if tasks else ()
    everywhere = severity if isinstance(severity, dict) else dict.fromkeys(Purpose, severity)
    return Finding(code, code.partition(".")[0], code, everywhere, ways=tuple(ways), **facts)


def a_checkpoint(code, *findings, zone="top", safety=0, **facts):
    return Checkpoint(code, zone, code, "look", "nothing", "why", safety, tuple(findings), **facts)


def some_figures(**facts):
    return Figures(
        **{
            "cost_per_hour": 5000,
            "charge_per_hour": 9500,
            "margin": 0.15,
            "confidence": 0.8,
            "selling_share": 0.08,
            "warranty_share": 0.04,
            "haulage": Spread(8000, 15000, 30000),
            "disposal": Spread(2000, 3000, 6000),
            "correlation": 0.3,
            "donor_sold_share": 0.6,
            "finished": {
                Scope.MECHANICAL: Spread(200_000, 320_000, 500_000),
                Scope.EVERYDAY: Spread(300_000, 470_000, 720_000),
                Scope.SHOW: Spread(450_000, 700_000, 1_100_000),
            },
            "unrestored": Spread(30_000, 50_000, 70_000),
            "feature_worth": {"lamp": 7500, "burners6": 60_000},
            "claimed_trust": 0.4,
            "offer_step": 2500,
            "good_finish": 0.1,
            "most_taken": 0.4,
            "left_takes": {"none": 0.0, "minor": 0.0, "serious": 0.02, "grave": 0.06},
            "still_sells": {"none": 1.0, "minor": 0.5, "serious": 0.0, "grave": 0.0},
            **facts,
        }
    )


def a_catalogue(
    checkpoints: Iterable[Checkpoint] = (),
    tasks: Iterable[Task] = (),
    *,
    proofs: Iterable[ProofKind] = (),
    accessories: Iterable[Accessory] = (),
    figures: Figures | None = None,
):
    checkpoints = list(checkpoints)
    zones = [Zone("top", "Top", 1), Zone("oven", "Oven", 2), Zone("house", "House", 3)]
    return Catalogue(
        version="1",
        zones={z.code: z for z in zones},
        checkpoints={c.code: c for c in checkpoints},
        findings={f.code: f for c in checkpoints for f in c.findings},
        tasks={t.code: t for t in tasks},
        cautions={},
        proofs={p.code: p for p in proofs},
        accessories={a.code: a for a in accessories},
        figures=figures or some_figures(),
    )


def a_proof(code, order=1, **facts):
    return ProofKind(code, code, "how", "meets", (), "common practice, no source", order, False, **facts)


def a_look(*answers, build=None, purpose=Purpose.RESALE, asking=None, accessories=()):
    return Look(build or Build(), purpose, tuple(answers), asking, tuple(accessories))


def found(code, extent=1, **facts):
    return Answer(code.partition(".")[0], code, extent, **facts)


builds = st.builds(
    Build,
    back=st.sampled_from(["high", "low", "none"]),
    base=st.sampled_from(["legs", "base"]),
    oven_side=st.sampled_from(["left", "right"]),
    burners=st.integers(2, 8),
    ovens=st.integers(1, 3),
    broiler=st.booleans(),
    griddle=st.booleans(),
    deep_well=st.booleans(),
    lamp=st.booleans(),
    clock=st.booleans(),
    outlet=st.booleans(),
    shelf=st.booleans(),
    fold_top=st.booleans(),
    window=st.booleans(),
    thermostat=st.booleans(),
    lighting=st.sampled_from(["match", "match with safety pilot", "standing pilot", "spark"]),
)


@st.composite
def looks(draw, catalogue, purposes=tuple(Purpose)):
    """A random range with random answers: sound, found or not seen, with all kinds of evidence."""
    build = draw(builds)
    walk = catalogue.walk(build)
    answers = []
    for checkpoint in draw(st.lists(st.sampled_from(walk), unique_by=lambda c: c.code, max_size=len(walk))):
        evidence = draw(st.sampled_from([Evidence.CLAIMED, Evidence.SEEN, Evidence.TESTED]))
        if draw(st.booleans()):
            answers.append(Answer(checkpoint.code, evidence=evidence))
        else:
            chosen = draw(
                st.lists(
                    st.sampled_from(checkpoint.findings), unique_by=lambda f: f.code, min_size=1, max_size=2
                )
            )
            answers += [Answer(checkpoint.code, f.code, draw(st.integers(1, 5)), evidence) for f in chosen]
    accessories = draw(st.lists(st.sampled_from(sorted(catalogue.accessories)), unique=True, max_size=2))
    asking = draw(st.none() | st.integers(0, 300_000))
    spent = draw(st.none() | st.integers(0, 200_000))
    purpose = draw(st.sampled_from(purposes))
    return Look(build, purpose, tuple(answers), asking, tuple(accessories), spent_cents=spent)
