"""The one error that people are meant to read.

A `Problem` says in a sentence what happened, to which record, and what to do next. The
sentence is a template in English with its facts beside it, so that `wording` can translate
it; anything else that is raised is a bug.
"""


class Problem(Exception):
    """A refusal with a sentence; `field` names the form field it belongs to, if any."""

    def __init__(self, text: str, *, field: str = "", **facts: object) -> None:
        self.text = text
        self.facts = facts
        self.field = field
        super().__init__(text.format(**facts) if facts else text)


class NotAllowed(Problem):
    """The acting person's role may not do this."""


class NotFound(Problem):
    """The record named does not exist."""


class ChangedMeanwhile(Problem):
    """Another seat saved the record first; what was typed is kept by the caller."""


class Unavailable(Problem):
    """The surroundings fail (disk, lock, server), not the program and not the person."""
