"""Builders of facts for papers: an invented workshop, invented makers, defaults for everything."""

import io
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from PIL import Image, ImageDraw

from shopdesk.documents.facts import (
    CautionFacts,
    ConditionReportFacts,
    Consent,
    FindingFacts,
    HandOverFacts,
    IntakeReceiptFacts,
    InvoiceFacts,
    LineFacts,
    OrderLineFacts,
    Paid,
    PartyFacts,
    PaymentReceiptFacts,
    Photo,
    Piece,
    PinnedDrawing,
    ProofFacts,
    ProofSheetFacts,
    PurchaseOrderFacts,
    QuoteFacts,
    RangeFacts,
    ReadingFacts,
    ScopeFacts,
    Settled,
    ShopHead,
    SignedWithout,
    Standing,
    TaskFacts,
    TravellerFacts,
)
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Severity
from shopdesk.domain.money import Spread, for_minutes
from shopdesk.domain.totals import Amount, Tax, Totals, total
from shopdesk.drawing.front import draw_front
from shopdesk.drawing.pins import place_pins
from shopdesk.drawing.proportions import proportions
from shopdesk.wording import Region

DAY = date(2026, 11, 24)
TAX = Tax("S", Decimal("8.25"), "Sales tax")
FREE = Tax("O", Decimal(0))
GAS_CAUTION = (
    "Gas",
    "Close the house valve, let the burners go out, air the room. Look for leaks with fluid, never with a flame.",
    "the gas supplier and a licensed gas fitter",
)
HANDED_OVER = ("Gas identity", "Tightness of gas parts", "Carbon monoxide, oven", "Electrical")


def a_photograph(colour: str = "#7d8a93", words: str = "") -> bytes:
    image = Image.new("RGB", (640, 480), colour)
    pen = ImageDraw.Draw(image)
    pen.ellipse((180, 100, 460, 380), outline="#30343a", width=14)
    pen.line((320, 20, 320, 460), fill="#30343a", width=8)
    pen.text((20, 20), words, fill="white")
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()


def a_shop(**changes: Any) -> ShopHead:
    return replace(
        ShopHead(
            name="Ember & Latch Range Works",
            address_lines=("14 Foundry Lane", "Millbrook Falls, CA 90000"),
            phone="555-0142",
            email="desk@emberandlatch.example",
            registration="A-000123",
            region=Region(),
        ),
        **changes,
    )


def an_a4_shop(**changes: Any) -> ShopHead:
    return a_shop(region=Region("en_GB", "GBP", "metric", "a4", "Europe/London"), **changes)


def a_customer(**changes: Any) -> PartyFacts:
    return replace(
        PartyFacts(name="Ruiz & Søn <b>", address_lines=("7 Larkspur Way", "Millbrook Falls, CA 90001"),
                   phone="555-0199", email="ruiz@example.org"),
        **changes,
    )  # fmt: skip


def a_range(**changes: Any) -> RangeFacts:
    return replace(
        RangeFacts(
            number="R-17", maker="Halvorsen", model="Meadow 40", serial="48-20931", made_about="1948",
            colour="white, black trim", gas_on_plate="natural gas, 4 in w.c.",
            build="high back, six burners, griddle over broiler, oven right, lamp and clock", width="39 1/2 in",
        ),
        **changes,
    )  # fmt: skip


def lines() -> tuple[LineFacts, ...]:
    def work(what: str, minutes: int, because: str) -> LineFacts:
        net = for_minutes(minutes, 9500)
        return LineFacts(kind="labour", what=what, quantity=minutes, unit_cents=9500, net_cents=net, because=because)

    return (
        work("Rewire the lamp", 75, "lamp cord frayed"),
        work("Free and grease the left front burner valve, lap the plug", 100, "burner valve seized"),
        work("Bracket the broiler screw", 50, "broiler screw rusted through its hole"),
        LineFacts(kind="part", what="Two-conductor cord with plug, 6 ft", quantity=1, unit_cents=1850, net_cents=1850,
                  because="lamp cord frayed", condition="new", tax_name="taxed"),
        LineFacts(kind="part", what="Valve spring", quantity=2, unit_cents=640, net_cents=1280,
                  because="burner valve seized", condition="used", tax_name="taxed"),
        LineFacts(kind="outwork", what="Nickel plating, 4 handles", quantity=4, unit_cents=8500, net_cents=34000,
                  because="brightwork worn through to the base"),
        LineFacts(kind="delivery", what="Delivery to your door, two people", quantity=1, unit_cents=18000,
                  net_cents=18000),
    )  # fmt: skip


def totals_of(of: tuple[LineFacts, ...], paid: int = 0) -> Totals:
    return total([Amount(line.net_cents, TAX if line.kind == "part" else FREE) for line in of], paid=paid)


def an_invoice(**changes: Any) -> InvoiceFacts:
    of = changes.pop("lines", lines())
    base = InvoiceFacts(
        shop=a_shop(), number="I-1042", day=DAY, customer=a_customer(), range=a_range(), lines=of,
        totals=totals_of(of, 40000), due_on=date(2026, 12, 24), received_on=date(2026, 9, 3),
        trouble="The lamp went out with a snap. One burner will not turn.",
        payments=(Paid(label="Deposit, card", day=date(2026, 9, 20), cents=40000),),
        consents=(
            Consent(amount_cents=80000, at="Sep 20, 2026", who="A. Ruiz", how="signed paper"),
            Consent(amount_cents=91463, at="Oct 12, 2026, 3:10 PM", who="A. Ruiz", how="by telephone",
                    number_called="555-0199", taken_by="June Okafor", what="Bracket for the broiler screw, 50 min added"),
        ),
        standing=a_standing(),
        how_to_pay=("By check to the shop, by card at the counter, or by transfer naming the invoice number.",),
        terms=("Parts taken off are kept 30 days for you to collect.",),
    )  # fmt: skip
    return replace(base, **changes)


def a_standing(**changes: Any) -> Standing:
    return replace(
        Standing(
            red_tagged=False, released_by="Maren Holt", released_at="Nov 20, 2026, 4:15 PM",
            signed_without=(SignedWithout("Doors, springs, handles", "The owner keeps the loose handle as it is.",
                                          "Maren Holt", date(2026, 11, 20)),),
        ),
        **changes,
    )  # fmt: skip


def red_tagged() -> Standing:
    return Standing(red_tagged=True, missing=("Carbon monoxide, oven and broiler", "Safety pilot shut-off"))


def a_quote(**changes: Any) -> QuoteFacts:
    of = changes.pop("lines", lines())
    base = QuoteFacts(
        shop=a_shop(), number="Q-311", day=date(2026, 9, 15), customer=a_customer(), range=a_range(),
        scope="mechanical only", scope_means="Gas, heat and wiring are put in order; enamel and plating stay as they are.",
        lines=of, totals=totals_of(of), valid_until=date(2026, 10, 15), received_on=date(2026, 9, 3),
        trouble="The lamp went out with a snap. One burner will not turn.", deposit_cents=40000, ceiling_cents=110000,
        promise="Between Nov 16 and Dec 4, as things stand today. We tell you as soon as that changes, and why.",
        not_included=("New porcelain.", "The gas connection in your kitchen."),
        terms=("Parts taken off stay yours.",),
    )  # fmt: skip
    return replace(base, **changes)


def a_payment(**changes: Any) -> PaymentReceiptFacts:
    base = PaymentReceiptFacts(
        shop=a_shop(), number="M-77", day=DAY, customer=a_customer(), amount_cents=60000, method="transfer",
        range=a_range(), reference="TX 4471", taken_by="June Okafor",
        settled=(Settled(invoice="I-1042", cents=51682, open_cents=0),), held_cents=8318,
    )  # fmt: skip
    return replace(base, **changes)


def an_order(**changes: Any) -> PurchaseOrderFacts:
    of = (
        OrderLineFacts(what="Valve spring, brass, 3/8 in", quantity=6, unit_cents=480, theirs="VS-38", for_range="R-17"),
        OrderLineFacts(what="Oven safety valve, standing pilot, rebuilt", quantity=1, unit_cents=21900, theirs="OSV-2R",
                       for_range="R-12", note="core goes back to you"),
        OrderLineFacts(what="Two-conductor cord, cloth covered, by the foot", quantity=24, unit_cents=185),
    )  # fmt: skip
    base = PurchaseOrderFacts(
        shop=a_shop(), number="P-58", day=DAY, lines=of, total_cents=sum(line.quantity * (line.unit_cents or 0) for line in of),
        supplier=PartyFacts(name="Copperfield Parts & Castings", address_lines=("PO Box 9", "Eastmere, OH 40000")),
        our_account="EL-220", wanted_by=date(2026, 12, 8), deliver_to=("Ember & Latch Range Works", "14 Foundry Lane, rear door"),
        ship_by="parcel post", ordered_by="June Okafor", notes=("Please tell us before you send anything in place of these.",),
    )  # fmt: skip
    return replace(base, **changes)


def pieces() -> tuple[Piece, ...]:
    return (
        Piece("Oven racks", "2 of 2"),
        Piece("Broiler pan and grid", "there", "grid bent"),
        Piece("Griddle cover", "missing"),
        Piece("Burner grates", "6 of 6", "one cracked, from another range"),
    )


def an_intake(**changes: Any) -> IntakeReceiptFacts:
    base = IntakeReceiptFacts(
        shop=a_shop(), number="N-203", day=date(2026, 9, 3), customer=a_customer(), range=a_range(),
        trouble="The lamp went out with a snap. One burner will not turn. It has not been lit for about ten years.",
        wanted="To cook on it again; the looks may stay.", condition="Dusty and complete but for the griddle cover. "
        "Chip on the left oven door corner. Not lit.", pieces=pieces(), came_by="owner's trailer", taken_by="June Okafor",
        estimate_by=date(2026, 9, 17), terms=("Storage is free until 30 days after the ready notice.",),
    )  # fmt: skip
    return replace(base, **changes)


def a_handover(**changes: Any) -> HandOverFacts:
    base = HandOverFacts(
        shop=a_shop(), number="H-91", day=DAY, customer=a_customer(), range=a_range(), standing=a_standing(),
        handed_by="Maren Holt", gas=gas(),
        settings=(("Manifold pressure", "4.0 in w.c., all burners lit"), ("Oven dial", "reads 8 °F low at 350 °F"),
                  ("Burner spuds", "#49; oven #42")),
        work_done=("Lamp rewired.", "Left front burner valve freed and lapped.", "Broiler screw bracketed."),
        pieces=pieces(), proofs=(("Tightness", "○ meets"), ("Carbon monoxide", "○ meets")),
        at_home=("New connector and shut-off valve.", "Supply pressure.", "Tightness at working pressure.",
                 "Lighting of every burner.", "Carbon monoxide in the room; an alarm is present."),
        living_with_it=("Open the oven door before you light it by hand.", "Wipe bare iron dry and oil it.",
                        "Let enamel cool before you wash it."),
        cautions=(GAS_CAUTION,), warranty=("Twelve months on our work from today. Parts carry their maker's terms.",),
        proof_sheet="S-64", invoice="I-1042",
    )  # fmt: skip
    return replace(base, **changes)


def gas() -> tuple[tuple[str, str], ...]:
    return (("On the plate", "natural gas, 4 in w.c."), ("Spuds found", "#49, oven #42"),
            ("House supply", "natural gas, told by the owner"), ("Set to", "natural gas, 4.0 in w.c."),
            ("Label", "set November 20, 2026"))  # fmt: skip


def proofs() -> tuple[ProofFacts, ...]:
    def proof(name: str, result: Any, *readings: tuple[str, str], **more: Any) -> ProofFacts:
        facts: dict[str, Any] = {
            "instrument": "manometer M2, reads to 0.1 in w.c.", "by": "Teo Lindqvist", "at": "Nov 19, 2026, 2:05 PM",
            "limit": "no fall in 10 minutes", "source": "UFGS 15190A", **more,
        }  # fmt: skip
        return ProofFacts(name=name, result=result, readings=tuple(ReadingFacts(*r) for r in readings), **facts)

    return (
        proof("Tightness of gas parts on the bench", "does not meet", ("Start", "12.0 in w.c."), ("End", "11.4 in w.c."),
              superseded=True, note="Plug of the left front valve passed gas; lapped again."),
        proof("Tightness of gas parts on the bench", "meets", ("Start", "12.0 in w.c. at 68 °F"),
              ("End", "12.0 in w.c. at 68 °F"), how="Outlets capped, air to 12 in w.c., settled 5 minutes, held 10.",
              at="Nov 19, 2026, 4:40 PM"),
        proof("Carbon monoxide, oven and broiler", "meets", ("Carbon monoxide", "41 ppm at 12.3 % oxygen"),
              ("Air-free", "100 ppm"), instrument="flue analyzer A1, calibrated June 2, 2026",
              limit="800 ppm air-free", source="ANSI Z21, read in secondary sources", signed_by="Ida Vance, licensed fitter"),
        proof("Oven thermostat", "cannot tell", ("Cycles counted", "1 of 3"), instrument="thermocouple T3",
              limit="mean within 25 °F of the dial", source="common practice, no source",
              note="The thermocouple failed after the first cycle."),
    )  # fmt: skip


def a_proof_sheet(**changes: Any) -> ProofSheetFacts:
    base = ProofSheetFacts(
        shop=a_shop(), number="S-64", day=date(2026, 11, 20), range=a_range(), customer=a_customer(), gas=gas(),
        proofs=proofs(), standing=a_standing(), at_home=("Tightness at working pressure.", "Carbon monoxide in the room."),
        cautions=(("Never look for a leak with a flame.", "Smell gas: leave, then call the gas supplier."),),
    )  # fmt: skip
    return replace(base, **changes)


def a_traveller(**changes: Any) -> TravellerFacts:
    tasks = (
        TaskFacts(place=1, name="Take off griddle, burners and manifold cover; tag what comes off", stage="Teardown",
                  minutes=Spread(30, 45, 90), station="bay", skill="technician", cautions=("gas", "weight"),
                  parts=("8 tags",), advice="Photograph before the first screw."),
        TaskFacts(place=2, name="Rewire the lamp", stage="Repair", minutes=Spread(45, 75, 120), station="bench",
                  skill="electrical", because=("lamp cord frayed",), after=(1,), cautions=("mains",),
                  parts=("1 two-conductor cord with plug, 6 ft",), readings=("insulation, megohm", "earth, ohm"),
                  reopens=("Electrical",)),
        TaskFacts(place=3, name="Free the left front burner valve", stage="Repair", minutes=Spread(60, 100, 240),
                  station="bench", skill="gas", because=("burner valve seized",), after=(1,), cautions=("gas",),
                  parts=("1 valve spring", "valve grease"), readings=("start pressure, in w.c.", "end pressure, in w.c.",
                  "minutes held", "air temperature, °F"), reopens=("Tightness", "Valves"), done=True),
        TaskFacts(place=4, name="Season the oven floor", stage="Repair", minutes=Spread(60, 90, 150), station="oven",
                  because=("oven-floor enamel worn to bare iron",), after=(1,), cautions=("fire",)),
    )  # fmt: skip
    base = TravellerFacts(
        shop=a_shop(), number="W-17/1", day=DAY, range=a_range(), scope="mechanical only", tasks=tasks,
        cautions=(
            CautionFacts("gas", *GAS_CAUTION),
            CautionFacts("mains", "Mains", "Unplug, and try that it is dead, before you touch a conductor.",
                         "a licensed electrician"),
            CautionFacts("weight", "Weight", "Two people for castings and doors; keep fingers clear.", ""),
            CautionFacts("fire", "Fire and fumes", "Ventilate, keep an extinguisher at hand, never leave a hot oven.",
                         "the local fire code"),
        ),
        proofs=("Tightness of gas parts", "Valves", "Electrical"), promised_on=date(2026, 12, 4), qr="shopdesk:range/R-17",
        notes=("Customer keeps the old cord.",),
    )  # fmt: skip
    return replace(base, **changes)


def findings() -> tuple[FindingFacts, ...]:
    return (
        FindingFacts(zone="Outside", checkpoint="Left oven door corner", what="chip to the ground coat",
                     severity=Severity.MINOR, evidence="seen", number=1, extent="1 panel",
                     means="A hollow is a chip. It can be left; it may rust."),
        FindingFacts(zone="Wiring", checkpoint="Lamp cord", what="frayed, conductor bare", severity=Severity.GRAVE,
                     evidence="seen", number=2, means="Not to be plugged in before it is rewired.",
                     note="Broke at the strain relief.", photos=(Photo(a_photograph(), "Cord at the back panel"),
                                                                Photo(a_photograph("#93857d"), "Plug"))),
        FindingFacts(zone="Gas train", checkpoint="Burner valves", what="seized", severity=Severity.SERIOUS,
                     evidence="tested", number=3, extent="1 of 6 valves",
                     means="A seized plug can score when forced."),
        FindingFacts(zone="Oven", checkpoint="Oven floor", what="enamel worn to bare iron", severity=Severity.MINOR,
                     evidence="seen", number=4),
    )  # fmt: skip


def a_pinned_drawing() -> PinnedDrawing:
    build = Build(burners=6, griddle=True, lamp=True, clock=True)
    drawing = draw_front(build, proportions(build))
    wanted = ((1, "oven-door", "minor"), (2, "lamp", "grave"), (3, "knobs", "serious"), (4, "broiler-door", "minor"))
    return PinnedDrawing("Front", drawing, place_pins(drawing, wanted))


def a_report(**changes: Any) -> ConditionReportFacts:
    base = ConditionReportFacts(
        shop=a_shop(), number="C-120", day=date(2026, 9, 5), range=a_range(), customer=a_customer(),
        purpose="cook on it now", place="our bay 2", circumstances="Daylight and torch, 66 °F, range cold and not connected.",
        method="Looked at, felt and measured without taking it apart, apart from the griddle and burners.",
        examiner="Maren Holt", examined_on=date(2026, 9, 4), catalogue_version="1.0", earlier_work="Repainted side panels.",
        findings=findings(), overall=Severity.GRAVE,
        overall_why="The gravest single finding decides: lamp cord frayed, conductor bare.",
        gas=gas()[:3], drawings=(a_pinned_drawing(),), photos=(Photo(a_photograph("#5e6b62"), "As it came in"),),
        sound=(("Burner grates", "seen"), ("Oven door springs", "tested"), ("Clock", "claimed")),
        not_seen=(("Oven burner and pilot", ("oven safety pilot", "oven burner ports")), ("Back", ("flue", "insulation"))),
        claimed=("The clock keeps time.",), pieces=pieces(), verdict="restore",
        verdict_why=("Complete and in good porcelain.", "Every grave finding can be put right at the bench."),
        scopes=(
            ScopeFacts(name="Mechanical only", means="Gas, heat and wiring in order; looks stay.",
                       minutes=Spread(900, 1680, 2700), cost=Spread(190000, 280000, 420000), chosen=True,
                       work=("Rewire the lamp", "Free the burner valve", "Season the oven floor")),
            ScopeFacts(name="Everyday finish", means="Also clean, repair chips, polish brightwork.",
                       minutes=Spread(2100, 3300, 5000), cost=Spread(420000, 610000, 900000)),
        ),
        cautions=(GAS_CAUTION, ("Old insulation", "Treat as asbestos until a laboratory says otherwise.",
                                "an accredited laboratory and licensed abatement")),
        not_covered=("The worth of the range at a sale.",),
    )  # fmt: skip
    return replace(base, **changes)
