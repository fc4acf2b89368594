"""The help as a few web pages: the same topics as in the window, for a phone at the bench or the wall."""

import html
import shutil
from pathlib import Path

from markdown_it import MarkdownIt

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.wording import say, spoken_language
from shopdesk.wording.topics import Topic, topics

_STYLE = """
body { font: 1.05rem/1.55 "Source Sans 3", system-ui, sans-serif; max-width: 46rem; margin: 2rem auto;
  padding: 0 1rem; color: #23262b; background: #faf8f4; }
h1, h2 { line-height: 1.2; color: #1d2c44; } a { color: #1d2c44; }
img { max-width: 100%; border: 1px solid #c9c3b8; } nav li { margin: .2rem 0; }
table { border-collapse: collapse; } td, th { border-bottom: 1px solid #c9c3b8; padding: .3rem .8rem .3rem 0;
  text-align: left; vertical-align: top; }
@media (prefers-color-scheme: dark) { body { color: #e6e2da; background: #1c1f24; }
  h1, h2, a { color: #c3d0e6; } td, th, img { border-color: #4a4f57; } }
"""


def write_site(folder: Path) -> list[Path]:
    """Every topic as a page, an index before them, and the pictures; refuses a folder that is not empty."""
    if folder.exists() and any(folder.iterdir()):
        raise Problem("{folder} is not empty. Name a new folder for the help.", folder=folder)
    folder.mkdir(parents=True, exist_ok=True)
    render = MarkdownIt("commonmark").enable("table").render
    index = "".join(
        f'<li><a href="{topic.key}.html">{html.escape(topic.title)}</a></li>' for topic in topics()
    )
    pages = [
        _page(folder, "index", say("Help"), f"<h1>{html.escape(say('Help'))}</h1><nav><ul>{index}</ul></nav>")
    ]
    for topic in topics():
        back = f'<p><a href="index.html">{html.escape(say("Help"))}</a></p>'
        pages.append(_page(folder, topic.key, topic.title, back + render(topic.text)))
        _copy_pictures(topic, folder)
    return pages


def _page(folder: Path, key: str, title: str, body: str) -> Path:
    file = folder / f"{key}.html"
    head = '<meta charset="utf-8"><meta name="viewport" content="width=device-width">'
    file.write_text(
        f'<!doctype html><html lang="{spoken_language()}"><head>{head}<title>{html.escape(title)}</title>'
        f"<style>{_STYLE}</style></head><body>{body}</body></html>\n",
        encoding="utf-8",
    )
    return file


def _copy_pictures(topic: Topic, folder: Path) -> None:
    for token in MarkdownIt("commonmark").parse(topic.text):
        for part in token.children or ():
            if part.type == "image":
                name = str(part.attrs["src"])
                shutil.copyfile(paths.resource("pictures", name), folder / name)
