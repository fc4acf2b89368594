"""How a bench command takes its options and gives its answer.

Bad input ends in one sentence on stderr and exit code 2; an answer is a JSON object or a few
calm lines, and both carry the caution and whom to defer to.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Annotated, Any, NoReturn, TypeVar

import typer
from typer.core import TyperGroup

from shopdesk import paths
from shopdesk.domain.gas.cautions import read_gas_cautions
from shopdesk.domain.measured import Limit, Result, Sentence
from shopdesk.domain.problem import Problem
from shopdesk.wording import say, say_problem

Value = TypeVar("Value")
AsJson = Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")]

_RESULT_WORDS = {
    Result.MEETS: "Result: meets.",
    Result.DOES_NOT_MEET: "Result: does not meet.",
    Result.CANNOT_TELL: "Result: cannot tell.",
}


class OneSentence(TyperGroup):
    """A group whose commands refuse bad input with one sentence and exit code 2."""

    def invoke(self, ctx: Any) -> Any:
        try:
            return super().invoke(ctx)
        except Problem as problem:
            _refuse(say_problem(problem))
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
    sentences = [say(each.text, **each.facts) for each in says]
    if as_json:
        whole = dict(facts) | ({"result": result.value} if result else {})
        whole |= {"remarks": sentences, "caution": say(caution.text), "defer_to": say(caution.defer_to)}
        typer.echo(json.dumps(whole, ensure_ascii=False, indent=2))
        return
    lines = ([say(_RESULT_WORDS[result])] if result else []) + sentences
    lines += ["", say("Caution: {text}", text=say(caution.text))]
    lines += [say("Defer to: {whom}", whom=say(caution.defer_to))]
    typer.echo("\n".join(lines))
