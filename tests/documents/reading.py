"""Reading a PDF back with tools that did not make it."""

import io
import re
import shutil
import subprocess
from pathlib import Path

import pypdf
import pytest


def pages(pdf: bytes) -> list[str]:
    """The text of each page, in the order it was drawn, whitespace made single."""
    reader = pypdf.PdfReader(io.BytesIO(pdf), strict=True)
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


def text(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def in_order(whole: str, *wanted: str) -> None:
    """Each text follows the one before it."""
    at = 0
    for piece in wanted:
        found = whole.find(piece, at)
        assert found >= 0, f"{piece!r} is not in {whole[at : at + 400]!r}..."
        at = found + len(piece)


def accepted_by_qpdf(pdf: bytes, folder: Path) -> None:
    """`qpdf --check` finds nothing; skips where qpdf is not installed."""
    if not shutil.which("qpdf"):
        pytest.skip("qpdf is not installed, so its check of the papers did not run")
    file = folder / "paper.pdf"
    file.write_bytes(pdf)
    done = subprocess.run(["qpdf", "--check", str(file)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
