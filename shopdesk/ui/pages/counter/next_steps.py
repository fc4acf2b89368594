"""What waits on a job, as sentences with the section they lead to: for the desk with somebody on the line."""

import datetime as dt
from dataclasses import dataclass

from shopdesk.domain.access import Passage
from shopdesk.services.counter import JobAtCounter
from shopdesk.ui.access_words import passage_word
from shopdesk.ui.pages.counter.shown import quote_standing
from shopdesk.wording import Region, say, say_n


@dataclass(frozen=True, slots=True)
class NextStep:
    """A sentence and the section of the job it is about."""

    text: str
    section: str


def next_steps(region: Region, today: dt.date, job: JobAtCounter) -> list[NextStep]:
    """Most pressing first; empty when nothing waits at the counter."""
    return [
        *_past_due(region, today, job), *_questions(today, job), *_deposit(region, job),
        *_to_bill(region, job), *_to_hand_over(job),
    ]  # fmt: skip


def money_sentence(region: Region, job: JobAtCounter) -> str:
    """A job's money in one line."""
    money = job.head.money
    words = []
    if money.agreed_cents:
        words.append(
            say("agreed {amount} without tax, not above {ceiling} unasked",
                amount=region.money(money.agreed_cents), ceiling=region.money(money.ceiling_cents))
        )  # fmt: skip
    if money.taken_cents:
        words.append(say("paid {amount}", amount=region.money(money.taken_cents)))
    if money.held_cents:
        words.append(say("of that {amount} held", amount=region.money(money.held_cents)))
    if money.balance_cents > 0:
        words.append(say("{amount} open", amount=region.money(money.balance_cents)))
    elif any(view.row.number for view in job.invoices):
        words.append(say("nothing open"))
    text = ", ".join(words) or say("nothing agreed, nothing paid")
    return text[:1].upper() + text[1:] + "."


def deposit_open(job: JobAtCounter) -> int:
    """Deposit asked and not yet there, minor units; nothing once an invoice is out."""
    if any(view.row.number for view in job.invoices):
        return 0
    money = job.head.money
    return max(0, money.deposit_asked_cents - money.taken_cents)


def _past_due(region: Region, today: dt.date, job: JobAtCounter) -> list[NextStep]:
    steps = []
    for view in job.invoices:
        row = view.row
        if row.open_cents > 0 and row.due_on is not None:
            late = (today - row.due_on).days
            amount = region.money(row.open_cents)
            if late > 0:
                text = say_n(
                    "{amount} of {number} is {count} day past due.",
                    "{amount} of {number} is {count} days past due.",
                    late, amount=amount, number=row.number,
                )  # fmt: skip
            else:
                text = say("{amount} of {number} is due {day}.", amount=amount, number=row.number,
                           day=region.day_short(row.due_on, today))  # fmt: skip
            steps.append(NextStep(text, "payments"))
        elif not row.number:
            steps.append(NextStep(say("An invoice is written and not issued."), "invoices"))
    return steps


def _questions(today: dt.date, job: JobAtCounter) -> list[NextStep]:
    steps = []
    newest = {view.row.step: view.row for view in job.quotes if view.row.step != "change"}
    for row in newest.values():
        if row.answer == "open":
            words, _ = quote_standing(today, row)
            steps.append(NextStep(say("{number}: {words}.", number=row.number, words=words), "quotes"))
    for change in job.changes:
        if change.standing == "to be priced":
            steps.append(NextStep(say("{number} is to be priced.", number=change.number), "changes"))
        elif change.standing == "open":
            steps.append(NextStep(say("{number} waits for an answer.", number=change.number), "changes"))
    if not job.quotes and job.head.customer_id is not None and job.head.walked:
        steps.append(NextStep(say("No quote is written yet."), "quotes"))
    return steps


def _deposit(region: Region, job: JobAtCounter) -> list[NextStep]:
    asked = deposit_open(job)
    if not asked or not job.agreements:
        return []
    told = say("The deposit of {amount} is asked for.", amount=region.money(asked))
    if job.life.access.passage is not Passage.THROUGH:
        passage = passage_word(job.life.access.passage)
        told = say(
            "{deposit} First look at the way to the kitchen: {passage}.", deposit=told, passage=passage
        )
    return [NextStep(told, "payments")]


def _to_bill(region: Region, job: JobAtCounter) -> list[NextStep]:
    if job.ready.refusal is not None or any(not view.row.number for view in job.invoices):
        return []
    amount = region.money(job.ready.totals.with_tax)
    return [NextStep(say("{amount} is ready to bill.", amount=amount), "invoices")]


def _to_hand_over(job: JobAtCounter) -> list[NextStep]:
    if job.head.gone_on is not None or not job.head.released:
        return []
    return [NextStep(say("It is released and can be handed over."), "hand-over")]
