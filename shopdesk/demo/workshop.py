"""The invented workshop: its name, its people, its taxes and the firms it deals with."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from shopdesk.domain.clock import SteppedClock
from shopdesk.domain.folding import fold
from shopdesk.domain.rights import Role
from shopdesk.services import instruments, people, shops, taxes
from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopIdentity, Texts
from shopdesk.wording.region import Region

IDENTITY = ShopIdentity(
    name="Emberlow Range Works",
    street="4 Kiln Row",
    town="Quarrel Bend",
    region="OR",
    postcode="00000",
    country="USA",
    phone="555 0100",
    email="desk@emberlow.example",
    registration="Demo registration 0000",
    tax_number="Demo tax number 0000",
)
TEXTS = Texts(
    quote="Prices stand while the quote is valid. What is found when the range is apart is asked first.",
    invoice="Pay by transfer, card, cheque or cash at the counter, and name the invoice.",
    report="The range was examined as it stood; nothing was lit and nothing was taken apart.",
    warranty="90 days on our labour and on the parts we fitted; finishes left as found are excluded.",
    local_law="Local codes and the gas supplier decide; connection is for a licensed fitter.",
)


@dataclass(frozen=True, slots=True)
class Workshop:
    """An opened demo shop with the keys of its people."""

    seat: Seat
    clock: SteppedClock
    owner: int
    technicians: tuple[int, ...]
    desk: int


def make_workshop(place: Path, at: dt.datetime) -> Workshop:
    """A new shop with an owner, two technicians, a desk, wages, taxes and standard texts."""
    clock = SteppedClock(at)
    seat = shops.new_shop(place, clock, IDENTITY, Region(), "Odile Fennimarsh")
    hands = ("helper", "bench", "gas", "electrical")
    bram = shops.keep_staff(seat, shops.StaffDraft("Bram Tollgate", Role.TECHNICIAN, skills=hands))
    wilf = shops.keep_staff(
        seat, shops.StaffDraft("Wilf Orrery", Role.TECHNICIAN, skills=("helper", "bench"))
    )
    desk = shops.keep_staff(seat, shops.StaffDraft("Ysolde Marchbank", Role.DESK, skills=("desk",)))
    for person, cents in ((bram, 4200), (wilf, 3400), (desk, 3000)):
        shops.keep_wage(seat, person, seat.today, cents)
    taxes.keep_taxes(seat, [_tax(seat, kind) for kind in taxes.TAXED_KINDS])
    shops.keep_setting(seat, TEXTS)
    _tools(seat)
    return Workshop(seat, clock, seat.acting.staff_id, (bram, wilf), desk)


def _tools(seat: Seat) -> None:
    """What the workshop measures with."""
    due = seat.today + dt.timedelta(days=300)
    for name, serial, kinds, divisions, day in (
        ("manometer 2", "M2-117", ("pressure",), {"pressure": 0.05}, due),
        ("thermocouple 1", "T1-031", ("temperature",), {"temperature": 0.5}, due),
        ("flue analyser", "FA-88", ("carbon monoxide",), {"carbon monoxide": 1.0}, due),
        ("gas detector", "GD-5", ("gas",), {}, due),
        ("appliance tester", "AT-4", ("electrical", "voltage"), {}, due),
        ("stop-watch", "", ("time",), {}, due),
    ):
        instruments.keep_instrument(
            seat, instruments.InstrumentDraft(name, serial, kinds, divisions, calibration_due=day)
        )


_VANS = {"plater": ("2", "25")}
"""Weekdays on which a trade's van takes pieces in and gives them back: Tuesdays; Tuesdays and Fridays."""


def firm(seat: Seat, name: str, *, trade: str = "", supplies: bool = False, town: str = "Ferrow") -> int:
    """An invented firm, found again by its name."""
    for known in people.parties(seat, name):
        if known.name == name:
            return known.id
    number = sum(map(ord, name)) % 100
    send_days, return_days = _VANS.get(trade, ("", ""))
    return people.keep_party(
        seat,
        people.PartyDraft(
            name=name,
            is_firm=True,
            trade=trade,
            send_days=send_days,
            return_days=return_days,
            supplies=supplies,
            town=town,
            street=f"{number} Works Yard",
            phone=f"555 02{number:02d}",
        ),
    )


def customer(seat: Seat, name: str, street: str, phone: str, certificate: str = "") -> int:
    """A private customer; one with a `certificate` pays no tax."""
    return people.keep_party(
        seat,
        people.PartyDraft(
            name=name, street=street, phone=phone, town="Quarrel Bend", region="OR", postcode="00000",
            email=f"{fold(name).split(maxsplit=1)[0]}@home.example",
            exempt_certificate=certificate,
            exempt_until=seat.today + dt.timedelta(days=400) if certificate else None,
        ),
    )  # fmt: skip


def _tax(seat: Seat, kind: str) -> taxes.TaxRow:
    taxed = kind in ("part", "charge")
    return taxes.TaxRow(
        kind,
        seat.today,
        "Sales tax" if taxed else "Not taxed",
        "S" if taxed else "Z",
        Decimal("6.5") if taxed else Decimal(0),
    )
