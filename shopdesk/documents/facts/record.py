"""Facts as a plain record that can be stored beside the printed paper."""

import hashlib
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any


def as_record(facts: object) -> Any:
    """Names, texts, amounts and days as written; pictures and logos by their SHA-256 only.

    Made of dict, list, str, int, float, bool and None, so that it can be written as JSON. A
    range's drawing is left out: it follows from the build.
    """
    if is_dataclass(facts) and not isinstance(facts, type):
        names = (field.name for field in fields(facts) if field.name != "drawing")
        return {name: as_record(getattr(facts, name)) for name in names}
    if isinstance(facts, (tuple, list)):
        return [as_record(entry) for entry in facts]
    if isinstance(facts, bytes):
        return {"sha256": hashlib.sha256(facts).hexdigest()}
    if isinstance(facts, Enum):
        return facts.value
    if isinstance(facts, date):
        return facts.isoformat()
    return str(facts) if isinstance(facts, Decimal) else facts
