"""Every kind of paper with its renderer and the builder of its facts."""

from collections.abc import Callable
from typing import Any

import paper_facts as make

from shopdesk.documents import (
    before_after,
    bill_of_sale,
    condition_report,
    handover_sheet,
    intake_receipt,
    invoice,
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

EVERY: dict[str, tuple[Callable[[Any], bytes], Callable[..., Any]]] = {
    "intake receipt": (intake_receipt.render, make.an_intake),
    "condition report": (condition_report.render, make.a_report),
    "quote": (quote.render, make.a_quote),
    "traveller": (traveller.render, make.a_traveller),
    "weekly list": (weekly_list.render, make.a_week),
    "purchase order": (purchase_order.render, make.an_order),
    "proof sheet": (proof_sheet.render, make.a_proof_sheet),
    "invoice": (invoice.render, make.an_invoice),
    "letter": (letter.render, make.a_letter),
    "statement": (statement.render, make.a_statement),
    "bill of sale": (bill_of_sale.render, make.a_bill_of_sale),
    "payment receipt": (payment_receipt.render, make.a_payment),
    "progress letter": (progress_letter.render, make.a_progress_letter),
    "before and after": (before_after.render, make.a_pair),
    "log book": (log_book.render, make.a_log_book),
    "reckoning": (reckoning.render, make.a_reckoning),
    "hand-over sheet": (handover_sheet.render, make.a_handover),
}
