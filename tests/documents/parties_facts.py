"""An invented workshop, its customer and a range, for papers."""

import io
from dataclasses import replace
from datetime import date
from typing import Any

from PIL import Image, ImageDraw

from shopdesk.documents.facts import PartyFacts, Piece, RangeFacts, ShopHead
from shopdesk.wording import Region

DAY = date(2026, 11, 24)
GAS_CAUTION = (
    "Gas",
    "Close the house valve, let the burners go out, air the room. "
    "Look for leaks with fluid, never with a flame.",
    "the gas supplier and a licensed gas fitter",
)


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
        PartyFacts(
            name="Ruiz & Søn <b>",
            address_lines=("7 Larkspur Way", "Millbrook Falls, CA 90001"),
            phone="555-0199",
            email="ruiz@example.org",
        ),
        **changes,
    )


def a_range(**changes: Any) -> RangeFacts:
    return replace(
        RangeFacts(
            number="R-17",
            maker="Halvorsen",
            model="Meadow 40",
            serial="48-20931",
            made_about="1948",
            colour="white, black trim",
            gas_on_plate="natural gas, 4 in w.c.",
            build="high back, six burners, griddle over broiler, oven right, lamp and clock",
            width="39 1/2 in",
        ),
        **changes,
    )


def pieces() -> tuple[Piece, ...]:
    return (
        Piece("Oven racks", "2 of 2"),
        Piece("Broiler pan and grid", "there", "grid bent"),
        Piece("Griddle cover", "missing"),
        Piece("Burner grates", "6 of 6", "one cracked, from another range"),
    )


def gas() -> tuple[tuple[str, str], ...]:
    return (
        ("On the plate", "natural gas, 4 in w.c."),
        ("Spuds found", "#49, oven #42"),
        ("House supply", "natural gas, told by the owner"),
        ("Set to", "natural gas, 4.0 in w.c."),
        ("Label", "set November 20, 2026"),
    )
