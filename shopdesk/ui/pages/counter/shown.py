"""Rows of the counter as strips of words, made once when the facts come. Knows no widgets."""

import datetime as dt

from shopdesk.domain.catalogue.model import Scope
from shopdesk.services.agreements import AgreementRow
from shopdesk.services.change_orders import ChangeRow
from shopdesk.services.counter import FoundJob
from shopdesk.services.invoices import InvoiceRow
from shopdesk.services.lines import Line
from shopdesk.services.papers.keeping import PaperRow
from shopdesk.services.payments import HeldMoney, PaymentRow
from shopdesk.services.people import HasHere, PartyRow
from shopdesk.services.quotes import QuoteRow
from shopdesk.ui.pages.counter.draft import scopes
from shopdesk.ui.range_words import name_of, owner_of
from shopdesk.ui.widgets.stage_strip import StageShown
from shopdesk.ui.widgets.strip_list import Strip, Tone
from shopdesk.wording import Region, say, say_n


def job_strip(job: FoundJob) -> Strip:
    owner = ", ".join(word for word in (owner_of(job.customer), job.phone) if word)
    return Strip(
        job.job_id,
        f"{job.number}  {owner}",
        name_of(job.name, "", job.colour),
        stage=StageShown(job.stage.value, job.held_for, job.owned),
        strong=True,
    )


def line_strip(region: Region, place: int, line: Line) -> Strip:
    """A line of a quote or an invoice with what caused it."""
    condition = say(line.condition) if line.condition else ""
    title = f"{line.what} ({condition})" if condition else line.what
    return Strip(place, title, line.because, region.money(line.net_cents), _measure(region, line))


def _less(region: Region, line: Line) -> str:
    """A line's discount or surcharge with its reason."""
    if not line.adjust_cents:
        return ""
    return say("{amount}: {why}", amount=region.money(line.adjust_cents), why=line.adjust_why)


def _measure(region: Region, line: Line) -> str:
    each = region.money(line.unit_cents)
    if line.kind == "labour":
        measure = say("{hours} at {rate}", hours=region.hours(line.quantity), rate=each)
    else:
        many = line.quantity != 1 or line.adjust_cents
        measure = say("{count} × {each}", count=line.quantity, each=each) if many else ""
    return ", ".join(w for w in (measure, _less(region, line)) if w)


def quote_strip(region: Region, today: dt.date, row: QuoteRow) -> Strip:
    what = {
        "teardown": say("the teardown"),
        "change": say("a change order"),
        "job": dict(scopes()).get(Scope(row.scope), ""),
    }[row.step]
    written = say("written {day}", day=region.day_short(row.on_day, today))
    valid = say("valid until {day}", day=region.day_short(row.valid_until, today)) if row.valid_until else ""
    answer, tone = quote_standing(today, row)
    return Strip(
        row.id, f"{row.number}  {what}", ", ".join(w for w in (written, valid) if w),
        region.money(row.gross_cents), answer, tone,
    )  # fmt: skip


def quote_standing(today: dt.date, row: QuoteRow) -> tuple[str, Tone]:
    if row.answer == "agreed":
        return say("agreed"), "muted"
    if row.answer == "declined":
        return say("declined"), "muted"
    if row.valid_until is not None and row.valid_until < today:
        return say("ran out without an answer"), "hold"
    return waiting_words(today, row.on_day), "hold"


def waiting_words(today: dt.date, since: dt.date) -> str:
    days = (today - since).days
    if days <= 0:
        return say("no answer yet")
    return say_n("no answer for {count} day", "no answer for {count} days", days)


def open_quote_strip(region: Region, today: dt.date, row: QuoteRow) -> Strip:
    strip = quote_strip(region, today, row)
    return Strip(row.job_id, f"{row.customer}  {row.range_number}", f"{strip.title}, {strip.second}",
                 strip.right, strip.below, strip.tone)  # fmt: skip


def agreement_strip(region: Region, row: AgreementRow) -> Strip:
    how = {"signed": say("signed"), "e-mail": say("by e-mail")}.get(row.how) or say(
        "by telephone, called {number}", number=row.number_called
    )
    taken = say("{when}, {how}, taken by {who}", when=region.instant(row.at), how=how, who=row.taken_by)
    note = f"{taken}. {row.note}" if row.note else taken
    title = say("{number} agreed by {who}", number=row.number, who=row.who)
    return Strip(row.id, title, note, region.money(row.amount_cents), say("without tax"))


def change_strip(region: Region, today: dt.date, row: ChangeRow) -> Strip:
    found = say("found by {who} on {day}", who=row.found_by, day=region.day_short(row.found_on, today))
    hours = region.hours_range(row.minutes) if row.minutes.high else ""
    words: dict[str, tuple[str, Tone]] = {
        "to be priced": (say("to be priced"), "hold"),
        "open": (waiting_words(today, row.priced_on or row.found_on), "hold"),
        "agreed": (say("agreed"), "muted"),
        "declined": (say("declined"), "muted"),
    }
    standing, tone = words[row.standing]
    return Strip(
        row.id, f"{row.number}  {row.what}", ", ".join(w for w in (found, hours) if w),
        region.money(row.net_cents) if row.quote_id else "", standing, tone,
    )  # fmt: skip


def open_change_strip(region: Region, today: dt.date, row: ChangeRow) -> Strip:
    strip = change_strip(region, today, row)
    return Strip(row.job_id, f"{row.customer}  {row.range_number}", f"{strip.title}, {strip.second}",
                 strip.right, strip.below, strip.tone)  # fmt: skip


def invoice_strip(region: Region, today: dt.date, row: InvoiceRow) -> Strip:
    if not row.number:
        return Strip(row.id, say("Not issued yet"), say("being written"), region.money(row.gross_cents))
    name = say("Credit {number}", number=row.number) if row.kind == "credit" else row.number
    issued = say("issued {day}", day=region.day_short(row.on_day, today)) if row.on_day else ""
    due = say("due {day}", day=region.day_short(row.due_on, today)) if row.due_on else ""
    second = issued if row.kind == "credit" else ", ".join(w for w in (issued, due) if w)
    standing, tone = invoice_standing(region, today, row)
    return Strip(row.id, name, second, region.money(row.gross_cents), standing, tone)


def invoice_standing(region: Region, today: dt.date, row: InvoiceRow) -> tuple[str, Tone]:
    amount = region.money(row.open_cents)
    if row.standing == "past due" and row.due_on is not None:
        days = say_n("{count} day past due", "{count} days past due", (today - row.due_on).days)
        return say("{days}, {amount} open", days=days, amount=amount), "problem"
    if row.standing == "part settled" or (row.standing == "issued" and row.kind == "invoice"):
        return say("{amount} open", amount=amount), "hold"
    return say(row.standing), "muted"


def owing_strip(region: Region, today: dt.date, row: InvoiceRow) -> Strip:
    strip = invoice_strip(region, today, row)
    late = (today - row.due_on).days if row.due_on else 0
    below = say_n("{count} day past due", "{count} days past due", late) if late > 0 else say("not due yet")
    return Strip(row.job_id, f"{row.customer}  {row.range_number}", f"{strip.title}, {strip.second}",
                 region.money(row.open_cents), below, "problem" if late > 0 else "muted")  # fmt: skip


def held_strip(region: Region, today: dt.date, row: HeldMoney) -> Strip:
    since = say("since {day}", day=region.day_short(row.since, today))
    return Strip(row.job_id, f"{row.customer}  {row.range_number}", since, region.money(row.held_cents))


def payment_strip(region: Region, today: dt.date, row: PaymentRow) -> Strip:
    kinds = {"deposit": say("deposit"), "payment": say("payment"), "refund": say("given back")}
    methods = {
        "cash": say("cash"), "card": say("card"), "transfer": say("transfer"), "cheque": say("check"),
    }  # fmt: skip
    how = ", ".join(w for w in (methods[row.method], row.reference) if w)
    second = say("{day}, {how}", day=region.day_short(row.on_day, today), how=how)
    held = say("{amount} held", amount=region.money(row.held_cents)) if row.held_cents > 0 else ""
    return Strip(row.id, f"{row.number}  {kinds[row.kind]}", second, region.money(row.amount_cents), held)


def paper_strip(region: Region, row: PaperRow) -> Strip:
    return Strip(row.id, row.title, region.instant(row.issued_at))


def party_strip(row: PartyRow) -> Strip:
    return Strip(row.id, row.name, ", ".join(w for w in (row.phone, row.town, row.email) if w))


def here_strip(region: Region, today: dt.date, row: HasHere) -> Strip:
    opened = say("here since {day}", day=region.day_short(row.opened_on, today))
    owed = say("{amount} open", amount=region.money(row.owed_cents)) if row.owed_cents > 0 else ""
    title = f"{row.number}  {row.name or say('maker not known')}"
    return Strip(row.job_id, title, opened, owed, tone="hold", stage=StageShown(row.stage))
