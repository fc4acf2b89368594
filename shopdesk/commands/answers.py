"""How a bench command takes its options and gives its answer.

What is asked in SI units alone is answered in them; JSON keys name their unit. Bad input ends
in one sentence on stderr and exit code 2; an answer is a JSON object or a few
calm lines, and both carry the caution and whom to defer to.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from contextvars import ContextVar
from typing import Annotated, Any, NoReturn, TypeVar

import typer
from typer.core import TyperGroup

from shopdesk import paths
from shopdesk.domain.gas.cautions import read_gas_cautions
from shopdesk.domain.measured import Limit, Result, Sentence
from shopdesk.domain.problem import Problem
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import say_problem_in, say_sentence
from shopdesk.wording.guides import guide_in_units

Value = TypeVar("Value")
AsJson = Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")]

_RESULT_WORDS = {
    Result.MEETS: "Result: meets.",
    Result.DOES_NOT_MEET: "Result: does not meet.",
    Result.CANNOT_TELL: "Result: cannot tell.",
}


US, SI = Region(units="us"), Region(units="metric")
_region: ContextVar[Region] = ContextVar("units the sentences are in", default=US)
_US_ENDINGS = ("-inwc", "-ft", "-in", "-f", "-btuh", "-cuft", "-cfh", "-heating-value")
_SI_ENDINGS = ("-mbar", "-m", "-mm", "-c", "-kw", "-m3", "-m3h", "-mjm3")


def units_of(words: Sequence[str]) -> Region:
    """Metric where every option with a unit is an SI one; a switch or a file says nothing of units."""
    given = [word.partition("=")[0] for word in words if word.startswith("--")]
    us = any(word.endswith(_US_ENDINGS) or word == "--on-off" for word in given)
    return SI if not us and any(word.endswith(_SI_ENDINGS) for word in given) else US


class OneSentence(TyperGroup):
    """A group whose commands refuse bad input with one sentence and exit code 2."""

    def invoke(self, ctx: Any) -> Any:
        _region.set(units_of(ctx.args))
        try:
            return super().invoke(ctx)
        except Problem as problem:
            _refuse(say_problem_in(problem, _region.get()))
        except typer.TyperException as error:
            message = getattr(error, "format_message", None)
            _refuse(" ".join((message() if message else str(error)).split()))


def _refuse(text: str) -> NoReturn:
    typer.echo(text, err=True)
    raise typer.Exit(2)


def needed(value: Value | None, option: str) -> Value:
    """The value, or a Problem that names the missing option."""
    if value is None:
        raise Problem("Give {option}.", field=option, option=option)
    return value


def either(us: float | None, si: float | None, to_us: Callable[[float], float], options: str) -> float | None:
    """The US value from whichever twin was given; a Problem when both were."""
    if us is not None and si is not None:
        raise Problem("Give one of {options}, not both.", options=options)
    return to_us(si) if si is not None else us


def turned(value: float | None, to_si: Callable[[float], float]) -> float | None:
    """A value in its other unit, None staying None."""
    return None if value is None else to_si(value)


def in_words(told: Sentence) -> str:
    """A sentence in the units that were asked in."""
    return say_sentence(told, _region.get())


def limits(stated: Sequence[Limit]) -> list[dict[str, object]]:
    return [
        {"figure": each.figure, "unit": each.unit, "what": say(each.what), "source": say(each.source)}
        for each in stated
    ]


def answer(
    facts: Mapping[str, object],
    says: Sequence[Sentence],
    subject: str,
    *,
    as_json: bool,
    result: Result | None = None,
) -> None:
    """Print an answer with the caution of its subject; `facts` are the JSON keys, `says` the lines."""
    caution = read_gas_cautions(paths.resource("gas", "cautions.toml"))[subject]
    sentences = [in_words(each) for each in says]
    text = guide_in_units(say(caution.text), _region.get())
    if as_json:
        whole = dict(facts) | ({"result": result.value} if result else {})
        whole |= {"remarks": sentences, "caution": text, "defer_to": say(caution.defer_to)}
        typer.echo(json.dumps(whole, ensure_ascii=False, indent=2))
        return
    lines = ([say(_RESULT_WORDS[result])] if result else []) + sentences
    lines += ["", say("Caution: {text}", text=text)]
    lines += [say("Defer to: {whom}", whom=say(caution.defer_to))]
    typer.echo("\n".join(lines))
