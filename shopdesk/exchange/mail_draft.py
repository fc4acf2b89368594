"""A mail draft with a paper attached (RFC 5322, MIME), for the mail program to open and a person to send.

Nothing is sent from here. `X-Unsent: 1` tells mail programs that know it to open the file as a draft
(common practice, no source).
"""

import datetime as dt
import re
from dataclasses import dataclass
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP

from shopdesk.domain.problem import Problem

_ADDRESS = re.compile(r"[^\s@<>,;:\"()\[\]\\]+@[^\s@<>,;:\"()\[\]\\]+")
_BREAKS = re.compile(r"[\x00-\x08\x0a-\x1f\x7f\x85\u2028\u2029]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """A file that goes with the draft; `kind` like `application/pdf`."""

    name: str
    content: bytes
    kind: str = "application/pdf"


def mail_draft(
    *, to: str, subject: str, text: str, attached: tuple[Attached, ...], made_at: dt.datetime,
    to_name: str = "", sender: str = "", sender_name: str = "",
) -> bytes:  # fmt: skip
    """The draft as the bytes of an `.eml` file; the same arguments give the same bytes.

    `to` may be empty: the person fills it in. An address or a subject that would begin another header is
    refused in a sentence.
    """
    message = EmailMessage(policy=SMTP.clone(max_line_length=78))
    message["X-Unsent"] = "1"
    message["Subject"] = _one_line(subject, "subject")
    if to:
        message["To"] = _address(to, to_name, "to")
    if sender:
        message["From"] = _address(sender, sender_name, "sender")
    message["Date"] = made_at
    message.set_content(text.replace("\r\n", "\n").replace("\r", "\n").rstrip() + "\n")
    for each in attached:
        main, sub = each.kind.split("/")
        message.add_attachment(
            each.content, maintype=main, subtype=sub, filename=_one_line(each.name, "file name")
        )
    if attached:
        message.set_boundary(_boundary(attached))
    return message.as_bytes()


def _address(typed: str, name: str, field: str) -> Address:
    address = _one_line(typed.strip(), field)
    if not _ADDRESS.fullmatch(address) or not address.isascii():
        raise Problem(
            "“{typed}” is not one e-mail address. Write it like name@place.example.",
            typed=typed.strip(), field=field,
        )  # fmt: skip
    return Address(_one_line(name.strip(), field), addr_spec=address)


def _one_line(text: str, field: str) -> str:
    if _BREAKS.search(text):
        raise Problem(
            "The {field} of the draft has a line break in it; a mail could be changed by it. Write it in "
            "one line.",
            field=field,
        )
    return text


def _boundary(attached: tuple[Attached, ...]) -> str:
    """A line that cannot stand in the parts: texts are short of it, files are base64."""
    return "=_draft_" + "_".join(str(len(each.content)) for each in attached)
