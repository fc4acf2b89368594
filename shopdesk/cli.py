"""The command line: the window for people, and scripts, backups and checks for everyone else.

Every command answers with exit 0, or 2 and one sentence. `--json` answers in JSON.
"""

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from shopdesk import __version__
from shopdesk.commands.answers import OneSentence
from shopdesk.commands.gas import gas_app, proof_app
from shopdesk.wording import say

_KNOWN_OPTIONS = ("--help", "--version", "--install-completion", "--show-completion")


class _ShopFirst(OneSentence):
    """`shopdesk SHOP` opens a shop: what is no command is one."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        if not args or (args[0] not in self.commands and args[0] not in _KNOWN_OPTIONS):
            args = ["open", *args]
        return list(super().parse_args(ctx, args))


app = typer.Typer(
    cls=_ShopFirst,
    name="shopdesk",
    help=__doc__,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
)
app.add_typer(gas_app, name="gas")
app.add_typer(proof_app, name="proof")

AsJson = Annotated[bool, typer.Option("--json", help="Answer in JSON.")]
Shop = Annotated[str, typer.Argument(help="A shop file or a PostgreSQL URL.")]


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"shopdesk {__version__}")
        raise typer.Exit


@app.callback()
def main_options(
    version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True)] = False,
) -> None:
    """Job management for a workshop that restores vintage household gas ranges."""


@app.command("open")
def open_window(
    shop: Annotated[str | None, typer.Argument(help="A shop file or a PostgreSQL URL.")] = None,
    sample: Annotated[bool, typer.Option("--sample", help="Open a copy of the sample shop.")] = False,
    look: Annotated[bool, typer.Option("--look", help="Open to look, print and back up only.")] = False,
) -> None:
    """Opens the window on a shop; `shopdesk SHOP` does the same."""
    from shopdesk.app import run  # Qt is loaded only where a window is asked for

    raise typer.Exit(run(shop, sample=sample, looking=look))


@app.command()
def tour(folder: Annotated[Path, typer.Argument(help="An empty folder.")], as_json: AsJson = False) -> None:
    """Carries an invented range through the whole job and writes every paper and tour.json."""
    from shopdesk.demo.tour import run_tour

    told = run_tour(folder)
    if as_json:
        _answer(told)
        return
    typer.echo(
        say(
            "The tour ended in stage “{stage}” with {count} papers in {folder}.",
            stage=told["stages"][-1],
            count=len(told["papers"]),
            folder=folder,
        )
    )


@app.command()
def grow(
    file: Annotated[Path, typer.Argument(help="The new shop file.")],
    years: Annotated[float, typer.Option("--years", help="How long the shop has been there.")] = 20,
    seed: Annotated[int, typer.Option("--seed", help="The same figure makes the same shop.")] = 1,
    as_json: AsJson = False,
) -> None:
    """Makes an invented shop with years of work in it, for trying how the program holds up."""
    from shopdesk.demo.grow import grow_shop

    rows = grow_shop(file, years=years, seed=seed, told=_tell_rows)
    if as_json:
        _answer({"shop": str(file), "bytes": file.stat().st_size, "rows": rows})
    else:
        typer.echo(say("The shop {path} has {count} ranges.", path=file, count=rows["gas_range"]))


def _tell_rows(what: str, rows: int) -> None:
    if rows:
        typer.echo(f"{what} {rows}", err=True)


@app.command()
def sheet(
    file: Annotated[Path, typer.Argument(help="A walk-round sheet (TOML).")],
    into: Annotated[str | None, typer.Option("--into", metavar="SHOP", help="Record it in a shop.")] = None,
    as_json: AsJson = False,
) -> None:
    """Reads a walk-round sheet: verdict, offer, cost range and ordered tasks."""
    from shopdesk.commands.sheet import record, tell, told_in_words

    told = tell(file)
    if into is not None:
        told["range"] = record(file, into)  # whole or not at all
    if as_json:
        _answer(told)
    else:
        typer.echo(told_in_words(told))
    for problem in told.get("problems", ()):
        typer.echo(problem, err=True)
    if "problems" in told:
        raise typer.Exit(2)


@app.command("help")
def write_help(
    folder: Annotated[Path, typer.Argument(help="An empty folder.")],
    language: Annotated[str, typer.Option("--language", help="Such as en or de.")] = "en",
) -> None:
    """Writes the help of the window as web pages."""
    from shopdesk.exchange.help_site import write_site
    from shopdesk.wording import use_language

    use_language(language)
    typer.echo(say("{count} pages are in {folder}.", count=len(write_site(folder)), folder=folder))


@app.command("menu-entry")
def menu_entry() -> None:
    """Puts the program into the desktop's menu; shop files open with it (Linux desktops)."""
    import platformdirs

    from shopdesk.commands.menu_entry import write

    for file in write(Path(platformdirs.user_data_dir())):
        typer.echo(file)


@app.command()
def check(shop: Shop, as_json: AsJson = False) -> None:
    """Checks that a shop is whole: the file, the journal, the papers, the sums, the stages."""
    from shopdesk.domain.clock import now
    from shopdesk.services.checking import faults
    from shopdesk.services.seat import open_shop

    seat = open_shop(shop, now, looking=True)
    try:
        found = faults(seat)
    finally:
        seat.file.close()
    if as_json:
        _answer({"whole": not found, "faults": found})
    else:
        typer.echo("\n".join(found) if found else say("The shop is whole."), err=bool(found))
    if found:
        raise typer.Exit(2)


@app.command()
def upgrade(shop: Shop, as_json: AsJson = False) -> None:
    """Brings a shop to this program's version; a file is copied first."""
    from shopdesk.storage import upgrade as bring_up

    kept = bring_up(shop)
    if as_json:
        _answer({"upgraded": True, "backup": str(kept) if kept else None})
    elif kept:
        typer.echo(say("The shop is up to date. The file as it was is kept as {path}.", path=kept))
    else:
        typer.echo(say("The shop is up to date."))


@app.command()
def backup(
    shop: Shop,
    to: Annotated[Path, typer.Argument(help="The copy to be written.")],
    as_json: AsJson = False,
) -> None:
    """Copies a shop, in use or not, and proves the copy by opening it."""
    from shopdesk.services.keeping_copies import copy_place

    copy_place(shop, to)
    if as_json:
        _answer({"backup": str(to), "bytes": to.stat().st_size})
    else:
        typer.echo(say("The shop is copied to {path}.", path=to))


@app.command()
def move(
    shop: Shop,
    to: Annotated[str, typer.Argument(metavar="TO", help="An empty database's URL, or a new shop file.")],
    as_json: AsJson = False,
) -> None:
    """Moves a shop between a file and a database server; every row is compared, the old one is closed."""
    from shopdesk.storage.moving import move_shop

    moved = move_shop(shop, to)
    if as_json:
        _answer({"to": to, "rows": moved.total, "tables": moved.rows})
    else:
        typer.echo(say("The shop moved: {rows} rows, each compared. The old one can be looked at only.",
                       rows=moved.total))  # fmt: skip


@app.command()
def restore(
    copy: Annotated[Path, typer.Argument(help="A copy of a shop.")],
    to: Annotated[
        str, typer.Argument(help="The new shop file, or a new, empty database; nothing is replaced.")
    ],
    as_json: AsJson = False,
) -> None:
    """Brings a copy back as a new shop file or into a new database, proved whole."""
    if "://" in to:
        from shopdesk.services.keeping_copies import restore_to_server

        told: dict[str, Any] = {"rows": restore_to_server(copy, to)}
        to = to.rpartition("/")[2]  # never its password
    else:
        from shopdesk.services.keeping_copies import restore as bring_back

        bring_back(copy, Path(to))
        told = {"bytes": Path(to).stat().st_size}
    if as_json:
        _answer({"shop": to, **told})
    else:
        typer.echo(say("The shop is back at {path}. Open it, look, and go on there.", path=to))


@app.command()
def paper(
    kind: Annotated[str, typer.Argument(help="invoice, credit, quote, proof-sheet, ...")],
    number: Annotated[str, typer.Argument(help="The number on the paper.")],
    shop: Annotated[str, typer.Option("--shop", metavar="SHOP", help="A shop file or a PostgreSQL URL.")],
    out: Annotated[Path, typer.Option("--out", help="Where the file is written.")],
    as_xml: Annotated[bool, typer.Option("--xml", help="An invoice or credit as UBL 2.1.")] = False,
    duplicate: Annotated[bool, typer.Option("--duplicate", help="Mark the copy as a duplicate.")] = False,
    as_json: AsJson = False,
) -> None:
    """Writes an issued paper's PDF, byte for byte as it was archived, or a form of it."""
    from shopdesk.commands.paper import tell

    told = tell(shop, kind.replace("-", " "), number, out, as_xml=as_xml, duplicate=duplicate)
    if as_json:
        _answer(told)
    else:
        typer.echo(say("{number} is written to {path}.", number=number, path=out))


@app.command()
def books(
    shop: Shop,
    since: Annotated[str, typer.Option("--from", metavar="DAY", help="First day, as 2026-01-31.")],
    until: Annotated[str, typer.Option("--to", metavar="DAY", help="Last day, as 2026-03-31.")],
    out: Annotated[Path, typer.Option("--out", help="A workbook (.xlsx), or a folder for CSV files.")],
    as_json: AsJson = False,
) -> None:
    """Writes invoices, credits, taxes and payments of a period for the bookkeeper."""
    from shopdesk.commands.books import tell, told_in_words

    told = tell(shop, since, until, out)
    if as_json:
        _answer(told)
    else:
        typer.echo(told_in_words(told))


def _answer(told: dict[str, Any]) -> None:
    typer.echo(json.dumps(told, indent=2, ensure_ascii=False))


def main() -> None:
    """What the `shopdesk` command runs."""
    app()
