"""The head of the first page: the shop's mark, name and ways to reach it, then the title."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.parties import ShopHead
from shopdesk.documents.layout.cells import cells
from shopdesk.documents.layout.look import (
    ACCENT,
    GAP,
    NUMBER,
    RULE,
    RULE_WIDTH,
    SHOP,
    SMALL,
    SMALL_RIGHT,
    TITLE,
)
from shopdesk.documents.layout.pictures import picture
from shopdesk.documents.layout.text import marked, markup, para
from shopdesk.wording import say


def letterhead(shop: ShopHead, title: str, number: str, width: float) -> list[Flowable]:
    """Name and address left, contact right, a rule that starts heavy; below, title and number."""
    left: list[Flowable] = [para(shop.name, SHOP)]
    if shop.address_lines:
        left.append(markup(" · ".join(marked(line) for line in shop.address_lines), SMALL))
    contact = [shop.phone, shop.email, shop.web]
    if shop.tax_number:
        contact.append(say("Tax number {number}", number=shop.tax_number))
    if shop.registration:
        contact.append(say("Registration {number}", number=shop.registration))
    right = [para(line, SMALL_RIGHT) for line in contact if line]
    logo = picture(shop.logo, 84, 42) if shop.logo else None
    row = [*([logo] if logo else []), left, right or ""]
    widths = [*([96.0] if logo else []), width * 0.58 - (96 if logo else 0), width * 0.42]
    head = cells([row], widths)
    low = ("VALIGN", (0, 0), (-1, -1), "BOTTOM")
    line = cells([[para(title, TITLE), para(number, NUMBER)]], [width * 0.7, width * 0.3], low)
    return [head, Spacer(0, GAP * 1.5), _Rule(width), Spacer(0, GAP * 2), line, Spacer(0, GAP * 2)]


class _Rule(Flowable):
    """A warm grey rule with a short heavy start, as the edge of enamel over its ground coat."""

    def __init__(self, width: float) -> None:
        super().__init__()
        self.width, self.height = width, 3.0

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self.canv.setStrokeColor(RULE)
        self.canv.setLineWidth(RULE_WIDTH)
        self.canv.line(0, 1.3, self.width, 1.3)
        self.canv.setFillColor(ACCENT)
        self.canv.rect(0, 0, 42, 2.6, stroke=0, fill=1)
