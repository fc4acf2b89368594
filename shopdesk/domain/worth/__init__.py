"""What a range is worth doing, and at what price: routes side by side, verdict, offer, reasons.

`value` what a range fetches, `donor` what its parts bring, `routes` the ways it can go,
`readiness` what speaks against cooking on it now, `reasons` the sentences, `judge` the
whole; `customer` what a customer's own range is charged by scope.
"""

from shopdesk.domain.worth.customer import ScopeCharge, scope_charges
from shopdesk.domain.worth.judge import Verdict, judge
from shopdesk.domain.worth.readiness import Readiness
from shopdesk.domain.worth.routes import Route, RouteKind
from shopdesk.domain.worth.sentence import Amount, Fact, Inches, Length, Sentence, plain

__all__ = [
    "Amount",
    "Fact",
    "Inches",
    "Length",
    "Readiness",
    "Route",
    "RouteKind",
    "ScopeCharge",
    "Sentence",
    "Verdict",
    "judge",
    "plain",
    "scope_charges",
]
