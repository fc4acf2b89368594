"""Mail drafts, read back by the standard library as a mail program would."""

import datetime as dt
import email
from email.policy import default

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.problem import Problem
from shopdesk.exchange.mail_draft import Attached, mail_draft

AT = dt.datetime(2026, 3, 1, 9, 30, tzinfo=dt.UTC)
PDF = Attached(name="invoice I-0001.pdf", content=b"%PDF-1.4 \x00\xff" * 50)


def draft(**more: object) -> bytes:
    fields = {
        "to": "ruiz@home.example", "to_name": "Ruiz & Søn <b>", "subject": "Invoice I-0001", "text": "Hi",
        "sender": "desk@emberlow.example", "sender_name": "Emberlow", "attached": (PDF,), "made_at": AT,
    }  # fmt: skip
    return mail_draft(**{**fields, **more})  # type: ignore[arg-type]


def test_a_draft_opens_unsent_with_its_words_and_the_very_bytes_of_the_paper() -> None:
    read = email.message_from_bytes(draft(), policy=default)
    assert read["X-Unsent"] == "1"
    assert read["To"].addresses[0].addr_spec == "ruiz@home.example"
    assert read["To"].addresses[0].display_name == "Ruiz & Søn <b>"
    assert read["Subject"] == "Invoice I-0001"
    assert read.get_body().get_content().splitlines() == ["Hi"]
    [paper] = read.iter_attachments()
    assert (paper.get_content_type(), paper.get_filename()) == ("application/pdf", "invoice I-0001.pdf")
    assert paper.get_content() == PDF.content
    assert read.defects == []
    assert draft() == draft()
    assert all(len(line) <= 998 for line in draft().split(b"\r\n"))  # RFC 5322, 2.1.1


def test_without_an_address_the_person_fills_it_in() -> None:
    assert email.message_from_bytes(draft(to=""), policy=default)["To"] is None


@pytest.mark.parametrize(
    ("field", "value"),
    [("subject", "Quote\r\nBcc: all@there.example"), ("subject", "Quote\nX: y"),
     ("to", "a@b.example\r\nBcc: c@d.example"), ("to_name", "Ruiz\nBcc: c@d.example"),
     ("to", "a@b.example, c@d.example"), ("to", "nobody"), ("sender", "x@y.example\nBcc: z@z.example"),
     ("sender_name", "a\x0bb"), ("subject", "a\u2028b"), ("subject", "a\x00b"),
     ("attached", (Attached(name="a\r\nX: y.pdf", content=b""),))],
)  # fmt: skip
def test_what_would_begin_another_header_is_refused_in_a_sentence(field: str, value: object) -> None:
    with pytest.raises(Problem, match=r"line break|not one e-mail address"):
        draft(**{field: value})


@given(st.text(max_size=200), st.text(max_size=200), st.text(max_size=80))
def test_nothing_typed_makes_a_header_of_its_own(subject: str, text: str, name: str) -> None:
    try:
        made = draft(subject=subject, text=text, to_name=name)
    except Problem:
        return
    except UnicodeEncodeError:
        assert any("\ud800" <= letter <= "\udfff" for letter in subject + text + name)
        return
    read = email.message_from_bytes(made, policy=default)
    assert set(read.keys()) == {"X-Unsent", "Subject", "To", "From", "Date", "MIME-Version", "Content-Type"}
    assert len(read["To"].addresses) == 1
    assert [part.get_content() for part in read.iter_attachments()] == [PDF.content]
