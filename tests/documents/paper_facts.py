"""Builders of facts for papers, all in one place."""

from bench_facts import a_pinned_drawing, a_report, a_traveller, findings
from counter_facts import FREE, TAX, a_payment, a_quote, an_invoice, an_order, lines, totals_of
from informed_facts import a_log_book, a_logged_job, a_pair, a_progress_letter, a_reckoning
from letter_facts import a_bill_of_sale, a_letter, a_statement, choices
from parties_facts import DAY, GAS_CAUTION, a_customer, a_photograph, a_range, a_shop, an_a4_shop, gas, pieces
from proving_facts import a_handover, a_proof_sheet, a_standing, an_intake, proofs, red_tagged
from week_facts import a_week

from shopdesk.wording import Region

__all__ = [
    "DAY",
    "FREE",
    "GAS_CAUTION",
    "TAX",
    "Region",
    "a_bill_of_sale",
    "a_customer",
    "a_handover",
    "a_letter",
    "a_log_book",
    "a_logged_job",
    "a_pair",
    "a_payment",
    "a_photograph",
    "a_pinned_drawing",
    "a_progress_letter",
    "a_proof_sheet",
    "a_quote",
    "a_range",
    "a_reckoning",
    "a_report",
    "a_shop",
    "a_standing",
    "a_statement",
    "a_traveller",
    "a_week",
    "an_a4_shop",
    "an_intake",
    "an_invoice",
    "an_order",
    "choices",
    "findings",
    "gas",
    "lines",
    "pieces",
    "proofs",
    "red_tagged",
    "totals_of",
]
