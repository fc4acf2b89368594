"""One translation function for the whole program.

Texts are written in English where they are used; that English is the key and the fallback.
`resources/wording/<language>.po` (gettext) holds the other languages. A catalogue is checked
when it is read, so that a slip of the pen in a translation is named rather than shown.
"""

import string
from enum import StrEnum
from gettext import GNUTranslations, NullTranslations
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileError, read_po

from shopdesk import paths
from shopdesk.domain.problem import Problem

SOURCE_LANGUAGE = "en"
_chosen: NullTranslations = NullTranslations()
_language = SOURCE_LANGUAGE


def say(text: str, /, **facts: object) -> str:
    """`text` in the chosen language with its `{facts}` filled in; words of an enum are translated too."""
    return _filled(_chosen.gettext(text) if text else "", facts)


def say_n(one: str, many: str, count: int, /, **facts: object) -> str:
    """The singular or plural of a text in the chosen language; `{count}` is filled in by itself."""
    return _filled(_chosen.ngettext(one, many, count), {"count": count, **facts})


def say_problem(problem: Problem) -> str:
    """The sentence of a problem in the chosen language."""
    return say(problem.text, **problem.facts)


def use_language(code: str, folder: Path | None = None) -> None:
    """Choose the language once, at start (`en`, `de_AT`, `fr-CA`); a Problem names a missing one."""
    global _chosen, _language
    language = code.replace("-", "_").split("_")[0].lower()
    if language == SOURCE_LANGUAGE:
        _chosen, _language = NullTranslations(), language
        return
    file = (folder or paths.resource("wording")) / f"{language}.po"
    if not file.is_file():
        raise Problem("There is no translation for the language {code}. English stays.", code=code)
    _chosen, _language = _compiled(_read(file, language)), language


def spoken_language() -> str:
    """Code of the language in use."""
    return _language


def speak(code: str) -> None:
    """The language of `code` where there is a translation of it, else English."""
    language = code.replace("-", "_").split("_")[0].lower()
    use_language(language if language in languages() else SOURCE_LANGUAGE)


def languages(folder: Path | None = None) -> list[str]:
    """Codes of the languages that can be chosen, English first."""
    found = sorted(file.stem for file in (folder or paths.resource("wording")).glob("*.po"))
    return [SOURCE_LANGUAGE, *found]


def _filled(text: str, facts: dict[str, object]) -> str:
    if not facts:
        return text
    return text.format(**{name: _spoken(fact) for name, fact in facts.items()})


def _spoken(fact: object) -> object:
    return _chosen.gettext(fact.value) if isinstance(fact, StrEnum) and fact.value else fact


def _read(file: Path, language: str) -> Catalog:
    try:
        with file.open("rb") as stream:
            catalog = read_po(stream, locale=language, abort_invalid=True)
    except (PoFileError, ValueError) as error:
        raise Problem("The translation {file} cannot be read: {why}.", file=file.name, why=error) from error
    for message in catalog:
        if message.id and message.string:
            _check(file.name, message.id, message.string)
    return catalog


def _check(file: str, source: str | tuple[str, ...] | list[str], target: object) -> None:
    sources = [source] if isinstance(source, str) else list(source)
    allowed = set().union(*(_names(text) for text in sources))
    for text in [target] if isinstance(target, str) else list(target):  # type: ignore[call-overload]
        if not text:
            continue
        unknown = _names(text) - allowed
        if unknown:
            raise Problem(
                "In {file} the translation of “{source}” asks for {names}, which the English does not have.",
                file=file,
                source=sources[0],
                names=", ".join(sorted(unknown)),
            )


def _names(text: str) -> set[str]:
    """The placeholders of a template; braces that do not parse count as a name of their own."""
    try:
        return {name for _, name, _, _ in string.Formatter().parse(text) if name}
    except ValueError:
        return {"a broken brace"}


def _compiled(catalog: Catalog) -> GNUTranslations:
    packed = BytesIO()
    write_mo(packed, catalog)
    packed.seek(0)
    return GNUTranslations(packed)
