"""The thread of a jacket in words and links: what a finding led to, and what a task came from.

Facts in, sentences out; makes no widgets and knows no records.
"""

from dataclasses import dataclass

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.services.jacket import Jacket
from shopdesk.services.jacket_thread import ThreadFinding, ThreadTask
from shopdesk.ui.widgets.severity_mark import severity_word
from shopdesk.wording import Region, say, say_n


@dataclass(frozen=True, slots=True)
class ShownFinding:
    """A finding as its row is drawn; `second` is the quiet line."""

    key: int
    name: str
    second: str
    severity: str
    photographs: tuple[int, ...]

    def spoken(self) -> str:
        return "; ".join(word for word in (self.name, self.second) if word)


@dataclass(frozen=True, slots=True)
class ShownTask:
    """A task as its row is drawn, with its money as text."""

    key: int
    name: str
    second: str
    quoted: str
    billed: str
    done: bool

    def spoken(self) -> str:
        return "; ".join(word for word in (self.name, self.second) if word)


def shown_findings(catalogue: Catalogue, jacket: Jacket) -> list[ShownFinding]:
    return [_finding(catalogue, jacket, found) for found in jacket.findings]


def shown_tasks(region: Region, jacket: Jacket) -> list[ShownTask]:
    return [_task(region, task) for task in jacket.tasks]


def links(jacket: Jacket) -> tuple[tuple[int, int], ...]:
    """Every (finding, task) that hang together."""
    return tuple((found.observation_id, task) for found in jacket.findings for task in found.tasks)


def papers_of(tasks: list[ThreadTask]) -> list[tuple[str, str]]:
    """Kind and number of the quotes and invoices that tasks stand on, each once, oldest first."""
    quotes = dict.fromkeys(("quote", n) for task in tasks for n in task.quote_numbers)
    invoices = dict.fromkeys(("invoice", n) for task in tasks for n in task.invoice_numbers)
    return [*quotes, *invoices]


def finding_sentence(region: Region, jacket: Jacket, key: int) -> str:
    """What one finding led to, from work to money."""
    found = next(f for f in jacket.findings if f.observation_id == key)
    tasks = [task for task in jacket.tasks if task.id in found.tasks]
    if not tasks:
        return say("{finding}: no task came of it.", finding=found.words)
    led = say_n("led to {count} task", "led to {count} tasks", len(tasks))
    return say("{finding}: {led}; {came}.", finding=found.words, led=led, came=_came(region, tasks))


def task_sentence(region: Region, jacket: Jacket, key: int) -> str:
    """Why a task is there and what became of it."""
    task = next(t for t in jacket.tasks if t.id == key)
    why = "; ".join(task.because) or say("added by hand")
    return say("{task}: because of {why}; {came}.", task=task.name, why=why, came=_came(region, [task]))


def _came(region: Region, tasks: list[ThreadTask]) -> str:
    """Hours, money and where it stands, summed over tasks."""
    low = sum(t.minutes.low for t in tasks)
    likely = sum(t.minutes.likely for t in tasks)
    high = sum(t.minutes.high for t in tasks)
    estimate = region.hours_range(type(tasks[0].minutes)(low, likely, high))
    clocked = sum(t.clocked for t in tasks)
    words = [say("estimated {hours}", hours=estimate)]
    words.append(say("clocked {hours}", hours=region.hours(clocked)) if clocked else say("nothing clocked"))
    quoted, billed = sum(t.quoted_cents for t in tasks), sum(t.billed_cents for t in tasks)
    words.append(
        say("quoted {amount}", amount=region.money(quoted)) if quoted else say("not quoted by itself")
    )
    words.append(say("billed {amount}", amount=region.money(billed)) if billed else say("not billed"))
    return ", ".join(words)


def _finding(catalogue: Catalogue, jacket: Jacket, found: ThreadFinding) -> ShownFinding:
    known = catalogue.findings.get(found.code)
    extent = ""
    if known is not None and known.per:
        extent = say("{count} × {what}", count=found.extent, what=known.per)
    severity = known.severity[jacket.purpose].value if known is not None else "none"
    words = (severity_word(severity), say(found.evidence), extent, found.note)
    second = ", ".join(word for word in words if word)
    return ShownFinding(found.observation_id, found.words, second, severity, found.photographs)


def _task(region: Region, task: ThreadTask) -> ShownTask:
    hours = region.hours_range(task.minutes)
    if task.clocked:
        hours = say("{hours}, clocked {clocked} by {who}", hours=hours, clocked=region.hours(task.clocked),
                    who=", ".join(task.who))  # fmt: skip
    parts = say("parts: {names}", names=", ".join(task.parts)) if task.parts else ""
    outwork = say("outwork: {names}", names=", ".join(task.outwork)) if task.outwork else ""
    standing = say("done") if task.done_share == 100 else say("part done") if task.done_share else ""
    return ShownTask(
        task.id,
        task.name,
        " · ".join(word for word in (standing, hours, parts, outwork) if word),
        region.money(task.quoted_cents) if task.quoted_cents else "",
        region.money(task.billed_cents) if task.billed_cents else "",
        task.done_share == 100,
    )
