"""The `paper` command: an issued paper as it was archived, marked as a duplicate, or as XML."""

import hashlib
from pathlib import Path
from typing import Any

from shopdesk.domain.clock import now
from shopdesk.domain.problem import Problem
from shopdesk.services.papers.duplicates import duplicate_bytes
from shopdesk.services.papers.electronic import invoice_xml
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.seat import Seat, open_shop


def tell(
    shop: str, kind: str, number: str, out: Path, *, as_xml: bool = False, duplicate: bool = False
) -> dict[str, Any]:
    """Writes the file; its number, place and SHA-256."""
    if as_xml and duplicate:
        raise Problem("Only the printed paper can be marked as a duplicate. Leave --xml or --duplicate.")
    seat = open_shop(shop, now, looking=True)
    try:
        content = _content(seat, kind, number, as_xml=as_xml, duplicate=duplicate)
    finally:
        seat.file.close()
    try:
        out.write_bytes(content)
    except OSError as error:
        raise Problem("{path} cannot be written ({why}).", path=str(out), why=error.strerror) from None
    return {"number": number, "file": str(out), "sha256": hashlib.sha256(content).hexdigest()}


def _content(seat: Seat, kind: str, number: str, *, as_xml: bool, duplicate: bool) -> bytes:
    if as_xml:
        if kind not in ("invoice", "credit"):
            raise Problem("Only invoices and credits have an XML form; a {kind} has none.", kind=kind)
        return invoice_xml(seat, number)
    return duplicate_bytes(seat, number, kind) if duplicate else paper_bytes(seat, number, kind)
