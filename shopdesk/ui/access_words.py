"""How pages say whether a range gets to where it is to stand. Text from facts; no widgets."""

from shopdesk.domain.access import Access, Passage
from shopdesk.services.papers.words import in_words
from shopdesk.wording import Region, say


def passage_word(passage: Passage) -> str:
    return {
        Passage.THROUGH: say("goes through"),
        Passage.NOT: say("does not go through"),
        Passage.NOT_MEASURED: say("not measured"),
    }[passage]


def access_words(found: Access, region: Region) -> str:
    """The verdict and its reasons, a sentence each."""
    verdict = say("The way there: {verdict}.", verdict=passage_word(found.passage))
    return " ".join((verdict, *(in_words(why, region) for why in found.why)))
