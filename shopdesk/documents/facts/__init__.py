"""What papers show, already computed: amounts in minor units, time in minutes, words as written."""

from shopdesk.documents.facts.condition import (
    ChangedFacts,
    ConditionReportFacts,
    FindingFacts,
    Photo,
    Piece,
    PinnedDrawing,
    ScopeFacts,
)
from shopdesk.documents.facts.counter import (
    AdjustmentFacts,
    ChoiceFacts,
    ChoicesFacts,
    Consent,
    FinishFacts,
    InvoiceFacts,
    LineFacts,
    MilestoneFacts,
    Paid,
    PaymentReceiptFacts,
    QuoteFacts,
    Settled,
)
from shopdesk.documents.facts.custody import HandOverFacts, IntakeReceiptFacts
from shopdesk.documents.facts.kept_informed import (
    BeforeAfterFacts,
    LogBookFacts,
    LoggedJob,
    LoggedPart,
    LoggedProof,
    ProgressLetterFacts,
)
from shopdesk.documents.facts.labels import GasLabelFacts, LabelSheetFacts, LabelSize, TagLabel, ThingLabel
from shopdesk.documents.facts.letters import (
    AccountLine,
    BillOfSaleFacts,
    LetterFacts,
    OpenBill,
    StatementFacts,
    StatementRow,
)
from shopdesk.documents.facts.parties import PartyFacts, Place, RangeFacts, ShopHead
from shopdesk.documents.facts.proving import (
    ProofFacts,
    ProofSheetFacts,
    ReadingFacts,
    SignedWithout,
    Standing,
)
from shopdesk.documents.facts.reckoning import FigureTable, ReckoningFacts
from shopdesk.documents.facts.record import as_record
from shopdesk.documents.facts.stores import OrderLineFacts, PurchaseOrderFacts
from shopdesk.documents.facts.week import WeekDay, WeekEntry, WeeklyListFacts
from shopdesk.documents.facts.work import CautionFacts, TagFacts, TaskFacts, TravellerFacts

__all__ = [
    "AccountLine",
    "AdjustmentFacts",
    "BeforeAfterFacts",
    "BillOfSaleFacts",
    "CautionFacts",
    "ChangedFacts",
    "ChoiceFacts",
    "ChoicesFacts",
    "ConditionReportFacts",
    "Consent",
    "FigureTable",
    "FindingFacts",
    "FinishFacts",
    "GasLabelFacts",
    "HandOverFacts",
    "IntakeReceiptFacts",
    "InvoiceFacts",
    "LabelSheetFacts",
    "LabelSize",
    "LetterFacts",
    "LineFacts",
    "LogBookFacts",
    "LoggedJob",
    "LoggedPart",
    "LoggedProof",
    "MilestoneFacts",
    "OpenBill",
    "OrderLineFacts",
    "Paid",
    "PartyFacts",
    "PaymentReceiptFacts",
    "Photo",
    "Piece",
    "PinnedDrawing",
    "Place",
    "ProgressLetterFacts",
    "ProofFacts",
    "ProofSheetFacts",
    "PurchaseOrderFacts",
    "QuoteFacts",
    "RangeFacts",
    "ReadingFacts",
    "ReckoningFacts",
    "ScopeFacts",
    "Settled",
    "ShopHead",
    "SignedWithout",
    "Standing",
    "StatementFacts",
    "StatementRow",
    "TagFacts",
    "TagLabel",
    "TaskFacts",
    "ThingLabel",
    "TravellerFacts",
    "WeekDay",
    "WeekEntry",
    "WeeklyListFacts",
    "as_record",
]
