"""The papers by their facts: one door for those who print any of them."""

from collections.abc import Callable
from typing import Any

from shopdesk.documents import (
    before_after,
    bill_of_sale,
    choices,
    condition_report,
    facts,
    gas_label,
    handover_sheet,
    intake_receipt,
    invoice,
    labels,
    letter,
    log_book,
    payment_receipt,
    progress_letter,
    proof_sheet,
    purchase_order,
    quote,
    reckoning,
    statement,
    traveller,
    weekly_list,
)
from shopdesk.documents.layout.look import accented

_RENDERERS: dict[type, Callable[[Any], bytes]] = {
    facts.BeforeAfterFacts: before_after.render,
    facts.BillOfSaleFacts: bill_of_sale.render,
    facts.ChoicesFacts: choices.render,
    facts.ConditionReportFacts: condition_report.render,
    facts.GasLabelFacts: gas_label.render,
    facts.HandOverFacts: handover_sheet.render,
    facts.IntakeReceiptFacts: intake_receipt.render,
    facts.InvoiceFacts: invoice.render,
    facts.LabelSheetFacts: labels.render,
    facts.LetterFacts: letter.render,
    facts.LogBookFacts: log_book.render,
    facts.PaymentReceiptFacts: payment_receipt.render,
    facts.ProgressLetterFacts: progress_letter.render,
    facts.ProofSheetFacts: proof_sheet.render,
    facts.PurchaseOrderFacts: purchase_order.render,
    facts.QuoteFacts: quote.render,
    facts.ReckoningFacts: reckoning.render,
    facts.StatementFacts: statement.render,
    facts.TravellerFacts: traveller.render,
    facts.WeeklyListFacts: weekly_list.render,
}


def render(paper: Any) -> bytes:
    """The PDF of whichever paper these facts belong to, in its shop's colour; TypeError for anything else."""
    renderer = _RENDERERS.get(type(paper))
    if renderer is None:
        raise TypeError(f"{type(paper).__name__} is not the facts of a paper")
    with accented(paper.shop.colour):
        return renderer(paper)
