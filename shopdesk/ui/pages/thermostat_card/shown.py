"""The card in words: its steps as strips, what it says now. Facts in, words out; knows no widgets."""

from shopdesk.services.thermostat_card import CardStep, CardView
from shopdesk.ui.widgets.strip_list import Strip
from shopdesk.wording import Region, say, say_n


def steps(card: CardView) -> list[Strip]:
    """Every step with its answer; the first open one is the strong one."""
    following = next((step.code for step in card.steps if not step.answer), "")
    return [
        Strip(step.code, say("{place}. {ask}", place=place, ask=step.ask), answer_words(step),
              strong=step.code == following, tone="hold" if not step.answer else "muted")
        for place, step in enumerate(card.steps, 1)
    ]  # fmt: skip


def answer_words(step: CardStep) -> str:
    """What was answered, with its note; or that it is open."""
    if not step.answer:
        return say("open")
    said = dict(step.answers).get(step.answer, step.answer)
    return say("{answer}. {note}", answer=said, note=step.note) if step.note else said


def verdict_words(card: CardView, region: Region) -> tuple[str, str]:
    """A heading and a sentence: what is missing, or what the complete card points to."""
    if card.complete_at is None:
        left = say_n("{count} answer is missing", "{count} answers are missing", len(card.missing))
        rule = say("Before the card is complete no thermostat is condemned, quoted or ordered.")
        return left, rule
    day = region.day(region.local_day(card.complete_at))
    by = say("Complete on {day}, by {who}.", day=day, who=card.by)
    return say("Points to: {what}", what=card.points_words), f"{card.why} {by}"
