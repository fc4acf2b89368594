"""Facts of the condition report and the traveller."""

from dataclasses import replace
from datetime import date
from typing import Any

from parties_facts import DAY, GAS_CAUTION, a_customer, a_photograph, a_range, a_shop, gas, pieces

from shopdesk.documents.facts import (
    CautionFacts,
    ConditionReportFacts,
    FindingFacts,
    Photo,
    PinnedDrawing,
    ScopeFacts,
    TaskFacts,
    TravellerFacts,
)
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Severity
from shopdesk.domain.money import Spread
from shopdesk.drawing.front import draw_front
from shopdesk.drawing.pins import place_pins
from shopdesk.drawing.proportions import proportions


def a_traveller(**changes: Any) -> TravellerFacts:
    tasks = (
        TaskFacts(
            place=1,
            name="Take off griddle, burners and manifold cover; tag what comes off",
            stage="Teardown",
            minutes=Spread(30, 45, 90),
            station="bay",
            skill="technician",
            cautions=("gas", "weight"),
            parts=("8 tags",),
            advice="Photograph before the first screw.",
        ),
        TaskFacts(
            place=2,
            name="Rewire the lamp",
            stage="Repair",
            minutes=Spread(45, 75, 120),
            station="bench",
            skill="electrical",
            because=("lamp cord frayed",),
            after=(1,),
            cautions=("mains",),
            parts=("1 two-conductor cord with plug, 6 ft",),
            readings=("insulation, megohm", "earth, ohm"),
            reopens=("Electrical",),
        ),
        TaskFacts(
            place=3,
            name="Free the left front burner valve",
            stage="Repair",
            minutes=Spread(60, 100, 240),
            station="bench",
            skill="gas",
            because=("burner valve seized",),
            after=(1,),
            cautions=("gas",),
            parts=("1 valve spring", "valve grease"),
            readings=(
                "start pressure, in w.c.",
                "end pressure, in w.c.",
                "minutes held",
                "air temperature, °F",
            ),
            reopens=("Tightness", "Valves"),
            done=True,
        ),
        TaskFacts(
            place=4,
            name="Season the oven floor",
            stage="Repair",
            minutes=Spread(60, 90, 150),
            station="oven",
            because=("oven-floor enamel worn to bare iron",),
            after=(1,),
            cautions=("fire",),
        ),
    )
    base = TravellerFacts(
        shop=a_shop(),
        number="W-17/1",
        day=DAY,
        range=a_range(),
        scope="mechanical only",
        tasks=tasks,
        cautions=(
            CautionFacts("gas", *GAS_CAUTION),
            CautionFacts(
                "mains",
                "Mains",
                "Unplug, and try that it is dead, before you touch a conductor.",
                "a licensed electrician",
            ),
            CautionFacts("weight", "Weight", "Two people for castings and doors; keep fingers clear.", ""),
            CautionFacts(
                "fire",
                "Fire and fumes",
                "Ventilate, keep an extinguisher at hand, never leave a hot oven.",
                "the local fire code",
            ),
        ),
        proofs=("Tightness of gas parts", "Valves", "Electrical"),
        promised_on=date(2026, 12, 4),
        qr="shopdesk:range/R-17",
        notes=("Customer keeps the old cord.",),
    )
    return replace(base, **changes)


def findings() -> tuple[FindingFacts, ...]:
    return (
        FindingFacts(
            zone="Outside",
            checkpoint="Left oven door corner",
            what="chip to the ground coat",
            severity=Severity.MINOR,
            evidence="seen",
            number=1,
            extent="1 panel",
            means="A hollow is a chip. It can be left; it may rust.",
        ),
        FindingFacts(
            zone="Wiring",
            checkpoint="Lamp cord",
            what="frayed, conductor bare",
            severity=Severity.GRAVE,
            evidence="seen",
            number=2,
            means="Not to be plugged in before it is rewired.",
            note="Broke at the strain relief.",
            photos=(Photo(a_photograph(), "Cord at the back panel"), Photo(a_photograph("#93857d"), "Plug")),
        ),
        FindingFacts(
            zone="Gas train",
            checkpoint="Burner valves",
            what="seized",
            severity=Severity.SERIOUS,
            evidence="tested",
            number=3,
            extent="1 of 6 valves",
            means="A seized plug can score when forced.",
        ),
        FindingFacts(
            zone="Oven",
            checkpoint="Oven floor",
            what="enamel worn to bare iron",
            severity=Severity.MINOR,
            evidence="seen",
            number=4,
        ),
    )


def a_pinned_drawing() -> PinnedDrawing:
    build = Build(burners=6, griddle=True, lamp=True, clock=True)
    drawing = draw_front(build, proportions(build))
    wanted = (
        (1, "oven-door", "minor"),
        (2, "lamp", "grave"),
        (3, "knobs", "serious"),
        (4, "broiler-door", "minor"),
    )
    return PinnedDrawing("Front", drawing, place_pins(drawing, wanted))


def a_report(**changes: Any) -> ConditionReportFacts:
    base = ConditionReportFacts(
        shop=a_shop(),
        number="C-120",
        day=date(2026, 9, 5),
        range=a_range(),
        customer=a_customer(),
        purpose="cook on it now",
        place="our bay 2",
        circumstances="Daylight and torch, 66 °F, range cold and not connected.",
        method="Looked at, felt and measured without taking it apart, apart from the griddle and burners.",
        examiner="Maren Holt",
        examined_on=date(2026, 9, 4),
        catalogue_version="1.0",
        earlier_work="Repainted side panels.",
        findings=findings(),
        overall=Severity.GRAVE,
        overall_why="The gravest single finding decides: lamp cord frayed, conductor bare.",
        gas=gas()[:3],
        drawings=(a_pinned_drawing(),),
        photos=(Photo(a_photograph("#5e6b62"), "As it came in"),),
        sound=(("Top", ("Burner grates", "Clock")), ("Oven", ("Oven door springs (tested)",))),
        not_seen=(
            ("Oven burner and pilot", ("oven safety pilot", "oven burner ports")),
            ("Back", ("flue", "insulation")),
        ),
        claimed=("The clock keeps time.",),
        pieces=pieces(),
        verdict="restore",
        verdict_why=("Complete and in good porcelain.", "Every grave finding can be put right at the bench."),
        scopes=(
            ScopeFacts(
                name="Mechanical only",
                means="Gas, heat and wiring in order; looks stay.",
                minutes=Spread(900, 1680, 2700),
                cost=Spread(190000, 280000, 420000),
                chosen=True,
                work=("Rewire the lamp", "Free the burner valve", "Season the oven floor"),
            ),
            ScopeFacts(
                name="Everyday finish",
                means="Also clean, repair chips, polish brightwork.",
                minutes=Spread(2100, 3300, 5000),
                cost=Spread(420000, 610000, 900000),
            ),
        ),
        cautions=(
            GAS_CAUTION,
            (
                "Old insulation",
                "Treat as asbestos until a laboratory says otherwise.",
                "an accredited laboratory and licensed abatement",
            ),
        ),
        not_covered=("The worth of the range at a sale.",),
    )
    return replace(base, **changes)
