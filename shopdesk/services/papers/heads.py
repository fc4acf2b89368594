"""What every paper starts with: the shop, the other side, the range, as they stand now."""

import base64
from collections.abc import Callable

from sqlalchemy.orm import Session

from shopdesk.documents.facts import PartyFacts, Place, RangeFacts, ShopHead
from shopdesk.domain.build import Build
from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Range
from shopdesk.wording import Region, say


def shop_head(seat: Seat, session: Session) -> ShopHead:
    identity = settings.read(session, settings.ShopIdentity)
    texts = settings.read(session, settings.Texts)
    return ShopHead(
        name=identity.name,
        address_lines=address_lines(identity),
        place=place_by_parts(identity),
        phone=identity.phone,
        email=identity.email,
        tax_number=identity.tax_number,
        registration=identity.registration,
        footer=texts.local_law,
        logo=base64.b64decode(identity.logo_png) if identity.logo_png else None,
        region=seat.region,
        colour=identity.colour,
    )


def party_facts(party: Party) -> PartyFacts:
    return PartyFacts(
        name=party.name,
        address_lines=address_lines(party),
        place=place_by_parts(party),
        phone=party.phone,
        email=party.email,
        tax_number=party.tax_number,
    )


def address_lines(place: Party | settings.ShopIdentity) -> tuple[str, ...]:
    """An address in the order in which it is written, empty lines left out."""
    town = ", ".join(w for w in (place.town, " ".join(w for w in (place.region, place.postcode) if w)) if w)
    return tuple(line for line in (place.street, town, place.country) if line)


def place_by_parts(of: Party | settings.ShopIdentity) -> Place:
    return Place(street=of.street, town=of.town, region=of.region, postcode=of.postcode, country=of.country)


def range_facts(row: Range, region: Region) -> RangeFacts:
    """The range, its sizes in the shop's units."""
    return RangeFacts(
        number=row.number,
        maker=row.maker,
        model=row.model,
        serial=row.serial,
        made_about=row.made_about,
        colour=row.colour,
        gas_on_plate=row.gas_on_plate,
        build=build_in_words(Build(**row.build)),
        width=_measured(row.width_in, region.length),
        depth=_measured(row.depth_in, region.length),
        height=_measured(row.height_in, region.length),
        weight=_measured(row.weight_lb, region.weight),
    )


def _measured(kept: str, show: Callable[[float], str]) -> str:
    """A kept size in the shop's unit; what somebody wrote in words stays as it is."""
    try:
        return show(float(kept))
    except ValueError:
        return kept


def build_in_words(build: Build) -> str:
    """How a range is built, in one line."""
    words = [say("{count} burners", count=build.burners)]
    words.append(say("one oven") if build.ovens == 1 else say("{count} ovens", count=build.ovens))
    named = {
        "broiler": say("broiler"),
        "griddle": say("griddle"),
        "deep_well": say("deep-well cooker"),
        "lamp": say("lamp"),
        "clock": say("clock"),
        "outlet": say("outlet"),
        "shelf": say("shelf"),
        "fold_top": say("fold-down top"),
        "window": say("oven window"),
    }
    words += [word for name, word in named.items() if getattr(build, name)]
    if build.back != "none":
        words.append(say("high back") if build.back == "high" else say("low back"))
    words.append(say("on legs") if build.base == "legs" else say("on a base"))
    return ", ".join(words)


def gas_identity(row: Range, region: Region) -> tuple[tuple[str, str], ...]:
    """The five facts of a range's gas, kept apart; what is not known says so."""
    unknown = say("not recorded")
    return (
        (say("On the plate"), row.gas_on_plate or unknown),
        (say("Spuds found"), row.spuds_found or unknown),
        (say("Supply at the house"), _supply(row, region) or unknown),
        (say("Set to"), row.set_to_gas or unknown),
        (say("Label put on"), row.gas_label or unknown),
    )


def _supply(row: Range, region: Region) -> str:
    """The gas in the house with its pressure."""
    pressure = _measured(row.house_pressure_inwc, region.pressure)
    gas = row.house_gas or _house_unknown(row.set_to_gas)
    return ", ".join(word for word in (gas, pressure) if word)


def _house_unknown(set_to: str) -> str:
    """What is to be done about a house nobody knows, once the range is set to a gas."""
    if not set_to:
        return ""
    text = "not known: a licensed fitter checks there that it is {gas}, before the range is connected"
    return say(text, gas=set_to)
