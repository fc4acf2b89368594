"""How the program speaks: translation, and money, days, hours and measures as text.

Every text that people see passes through `say`; every figure through a `Region`. This room
knows the values of `domain` and nothing of screens, papers or records.
"""

from shopdesk.wording.region import Region
from shopdesk.wording.speech import languages, say, say_n, say_problem, speak, spoken_language, use_language

__all__ = ["Region", "languages", "say", "say_n", "say_problem", "speak", "spoken_language", "use_language"]
