"""A shop's own changes to the catalogue: one at a time, read whole before it is kept."""

from collections.abc import Mapping
from typing import Any

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.services import shops
from shopdesk.services.seat import Seat, changed_catalogue
from shopdesk.services.settings import CatalogueChanges


def shipped_catalogue() -> Catalogue:
    """The catalogue as it came, without anybody's changes."""
    return changed_catalogue(CatalogueChanges())


def changes(seat: Seat) -> CatalogueChanges:
    return shops.setting(seat, CatalogueChanges)


def change_figures(seat: Seat, figures: Mapping[str, Any]) -> None:
    """The shop's own trade figures, written as in figures.toml; those left out are the shipped ones."""
    kept = changes(seat)
    shops.keep_setting(seat, CatalogueChanges(kept.catalogue, dict(figures)))


def change_checkpoint(seat: Seat, code: str, *, asked: bool, words: Mapping[str, str]) -> None:
    """Switches a checkpoint on or off and rewords it; empty words are the shipped ones."""
    kept = changes(seat)
    off = [other for other in kept.catalogue.get("off", ()) if other != code]
    reword = {key: value for key, value in kept.catalogue.get("reword", {}).items() if key != code}
    own = {name: text.strip() for name, text in words.items() if text.strip()}
    if not asked:
        off.append(code)
    if own:
        reword[code] = own
    rest = {key: value for key, value in kept.catalogue.items() if key not in ("off", "reword")}
    catalogue = {**rest, **({"off": off} if off else {}), **({"reword": reword} if reword else {})}
    shops.keep_setting(seat, CatalogueChanges(catalogue, kept.figures))
