"""A shop's logo: a PNG picture looked at before it is kept, as text for the settings."""

import base64
from pathlib import Path

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.exchange.pictures import take_in

_PNG = b"\x89PNG\r\n\x1a\n"
_MOST_BYTES = 500_000  # it goes onto every paper


def read_logo(path: Path) -> str:
    """The picture in base64, as `ShopIdentity.logo_png` keeps it; a sentence for what is no PNG."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise Unavailable(
            "{name} cannot be read ({why}).", field="logo_png", name=path.name, why=str(error.strerror)
        ) from None
    if not data.startswith(_PNG):
        raise Problem(
            "{name} is not a PNG picture. Save it as PNG and choose it again.",
            field="logo_png",
            name=path.name,
        )
    if len(data) > _MOST_BYTES:
        raise Problem(
            "{name} has {size} kB; a logo has at most {most}. Make it smaller and choose it again.",
            field="logo_png",
            name=path.name,
            size=len(data) // 1000,
            most=_MOST_BYTES // 1000,
        )
    take_in(data, path.name)  # raises for a damaged picture
    return base64.b64encode(data).decode("ascii")
