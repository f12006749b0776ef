"""``--language``: what is printed, drawn and written for people; what programs read is English."""

from pathlib import Path

import pytest

from nesting import Marker, read_marker
from nesting.draw.papers import PAPERS
from nesting.draw.scene import Text, walk
from nesting.draw.true_size import true_size_pages
from nesting.languages import words_of
from tests.nesting.cli.conftest import QUICK, Nesting

WIDTHS = ("--width", "50cm", "--width", "100cm", "--nap", "both", *QUICK)


def lines_of(text: str) -> list[str]:
    """Return the lines with single spaces between words."""
    return [" ".join(line.split()) for line in text.splitlines()]


@pytest.mark.parametrize(
    ("language", "told", "drawn"),
    [
        ("fr", ("Demandez 60 cm (23,63 in)", "Coût 6,00 à 10,00/m"), "largeur utile"),
        ("es", ("Pida 60 cm (23,63 in)", "Coste 6,00 a 10,00/m"), "ancho útil"),
    ],
)
def test_a_lay_is_told_and_drawn(
    nesting: Nesting, folder: Path, language: str, told: tuple[str, ...], drawn: str
) -> None:
    """Table and picture; names stay, and no English heading is left."""
    answer = nesting(
        "lay", "tote.toml", "--width", "100cm", "--price", "10/m", "--draw", "m.svg",
        "--language", language, *QUICK,
    )  # fmt: skip

    lines = lines_of(answer.out)
    assert set(told) <= set(lines)
    for english in ("Ask for", "Cost ", "Layout (marker)", "Cannot be", "Usable", "longest piece"):
        assert english not in answer.out
    assert drawn in (folder / "m.svg").read_text(encoding="utf-8")


def test_a_comparison_is_told_and_drawn(nesting: Nesting, folder: Path) -> None:
    """Headings, advice and picture; the advice of the JSON stays English."""
    asked = ("compare", "tote.toml", *WIDTHS, "--language", "fr")
    answer = nesting(*asked, "--draw", "c.svg")
    picture = (folder / "c.svg").read_text(encoding="utf-8")

    assert "le rouleau de 100 cm demande" in " ".join(answer.out.split())
    assert "Largeur" in answer.out
    assert "Combien acheter" in picture
    assert "100 cm, avec sens" in picture
    assert "more" not in picture
    assert "the 100 cm bolt" in " ".join(nesting(*asked, "--json").json["advice"])


def test_a_chart_is_told_drawn_and_written(nesting: Nesting, folder: Path) -> None:
    """Table, Markdown and picture in Spanish; the CSV is for programs and stays as it is."""
    chart = ("chart", "tote.toml", *WIDTHS, "--csv", "c.csv")
    nesting(*chart)
    english = (folder / "c.csv").read_text(encoding="utf-8")
    answer = nesting(*chart, "--markdown", "c.md", "--draw", "c.svg", "--language", "es")

    assert "50 cm con 1,10 m (43,31 in)" in lines_of(answer.out)
    page = (folder / "c.md").read_text(encoding="utf-8")
    assert "Tabla de metraje" in page
    assert "| 50 cm, sin dirección | 1,10 m (43,31 in) |" in page
    assert "una búsqueda rápida" in page
    assert "ancho de la tela" in (folder / "c.svg").read_text(encoding="utf-8")
    assert (folder / "c.csv").read_text(encoding="utf-8") == english


@pytest.fixture
def marker(nesting: Nesting, folder: Path) -> Marker:
    """Return a laid tote."""
    nesting("lay", "tote.toml", "--width", "100cm", "--out", "m.json", *QUICK)
    return read_marker(folder / "m.json")


def test_pages_at_true_size_are_written_in_a_language(
    nesting: Nesting, folder: Path, marker: Marker
) -> None:
    """Cover, feet and labels; nothing runs off the paper, however long the words."""
    for language, words in (
        ("fr", "carré intérieur : 100 mm"),
        ("es", "cuadrado interior: 100 mm"),
    ):
        pages = true_size_pages(marker, PAPERS["a4"], words_of(language))
        texts = [act for page in pages for _, act in walk(page.acts) if isinstance(act, Text)]
        told = [text.words for text in texts]
        assert words in told
        assert not any("page 1 of" in one or "true size" in one for one in told)
        assert all(
            act.box_mm[:, 0].max() <= page.width_mm
            for page in pages
            for act in page.acts
            if isinstance(act, Text)
        )

    asked = ("draw", "m.json", "--true-size", "--out", "p.pdf", "--language", "fr")
    assert nesting(*asked).code == 0
    assert (folder / "p.pdf").read_bytes().startswith(b"%PDF")
