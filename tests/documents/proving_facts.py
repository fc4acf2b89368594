"""Facts of the proof sheet, the hand-over sheet and the intake receipt."""

from dataclasses import replace
from datetime import date
from typing import Any

from parties_facts import DAY, GAS_CAUTION, a_customer, a_range, a_shop, gas, pieces

from shopdesk.documents.facts import (
    HandOverFacts,
    IntakeReceiptFacts,
    ProofFacts,
    ProofSheetFacts,
    ReadingFacts,
    SignedWithout,
    Standing,
)


def a_standing(**changes: Any) -> Standing:
    return replace(
        Standing(
            red_tagged=False,
            released_by="Maren Holt",
            released_at="Nov 20, 2026, 4:15 PM",
            signed_without=(
                SignedWithout(
                    "Doors, springs, handles",
                    "The owner keeps the loose handle as it is.",
                    "Maren Holt",
                    date(2026, 11, 20),
                ),
            ),
        ),
        **changes,
    )


def red_tagged() -> Standing:
    return Standing(red_tagged=True, missing=("Carbon monoxide, oven and broiler", "Safety pilot shut-off"))


def an_intake(**changes: Any) -> IntakeReceiptFacts:
    base = IntakeReceiptFacts(
        shop=a_shop(),
        number="N-203",
        day=date(2026, 9, 3),
        customer=a_customer(),
        range=a_range(),
        trouble="The lamp went out with a snap. One burner will not turn. Not lit for about ten years.",
        wanted="To cook on it again; the looks may stay.",
        condition="Dusty and complete but for the griddle cover. Chip on the left oven door corner. Not lit.",
        pieces=pieces(),
        came_by="owner's trailer",
        taken_by="June Okafor",
        estimate_by=date(2026, 9, 17),
        terms=("Storage is free until 30 days after the ready notice.",),
    )
    return replace(base, **changes)


def a_handover(**changes: Any) -> HandOverFacts:
    base = HandOverFacts(
        shop=a_shop(),
        number="H-91",
        day=DAY,
        customer=a_customer(),
        range=a_range(),
        standing=a_standing(),
        handed_by="Maren Holt",
        gas=gas(),
        settings=(
            ("Manifold pressure", "4.0 in w.c., all burners lit"),
            ("Oven dial", "reads 8 °F low at 350 °F"),
            ("Burner spuds", "#49; oven #42"),
        ),
        work_done=("Lamp rewired.", "Left front burner valve freed and lapped.", "Broiler screw bracketed."),
        pieces=pieces(),
        proofs=(("Tightness", "○ meets"), ("Carbon monoxide", "○ meets")),
        at_home=(
            "New connector and shut-off valve.",
            "Supply pressure.",
            "Tightness at working pressure.",
            "Lighting of every burner.",
            "Carbon monoxide in the room; an alarm is present.",
        ),
        living_with_it=(
            "Open the oven door before you light it by hand.",
            "Wipe bare iron dry and oil it.",
            "Let enamel cool before you wash it.",
        ),
        cautions=(GAS_CAUTION,),
        warranty=("Twelve months on our work from today. Parts carry their maker's terms.",),
        proof_sheet="S-64",
        invoice="I-1042",
    )
    return replace(base, **changes)


def proofs() -> tuple[ProofFacts, ...]:
    def proof(name: str, result: Any, *readings: tuple[str, str], **more: Any) -> ProofFacts:
        facts: dict[str, Any] = {
            "instrument": "manometer M2, reads to 0.1 in w.c.",
            "by": "Teo Lindqvist",
            "at": "Nov 19, 2026, 2:05 PM",
            "limit": "no fall in 10 minutes",
            "source": "UFGS 15190A",
            **more,
        }
        return ProofFacts(
            name=name, result=result, readings=tuple(ReadingFacts(*r) for r in readings), **facts
        )

    return (
        proof(
            "Tightness of gas parts on the bench",
            "does not meet",
            ("Start", "12.0 in w.c."),
            ("End", "11.4 in w.c."),
            superseded=True,
            note="Plug of the left front valve passed gas; lapped again.",
        ),
        proof(
            "Tightness of gas parts on the bench",
            "meets",
            ("Start", "12.0 in w.c. at 68 °F"),
            ("End", "12.0 in w.c. at 68 °F"),
            how="Outlets capped, air to 12 in w.c., settled 5 minutes, held 10.",
            at="Nov 19, 2026, 4:40 PM",
        ),
        proof(
            "Carbon monoxide, oven and broiler",
            "meets",
            ("Carbon monoxide", "41 ppm at 12.3 % oxygen"),
            ("Air-free", "100 ppm"),
            instrument="flue analyzer A1, calibrated June 2, 2026",
            limit="800 ppm air-free",
            source="ANSI Z21, read in secondary sources",
            signed_by="Ida Vance, licensed fitter",
        ),
        proof(
            "Oven thermostat",
            "cannot tell",
            ("Cycles counted", "1 of 3"),
            instrument="thermocouple T3",
            limit="mean within 25 °F of the dial",
            source="common practice, no source",
            note="The thermocouple failed after the first cycle.",
        ),
    )


def a_proof_sheet(**changes: Any) -> ProofSheetFacts:
    base = ProofSheetFacts(
        shop=a_shop(),
        number="S-64",
        day=date(2026, 11, 20),
        range=a_range(),
        customer=a_customer(),
        gas=gas(),
        proofs=proofs(),
        standing=a_standing(),
        at_home=("Tightness at working pressure.", "Carbon monoxide in the room."),
        cautions=(("Never look for a leak with a flame.", "Smell gas: leave, then call the gas supplier."),),
    )
    return replace(base, **changes)
