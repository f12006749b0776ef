"""Names never reach the terminal as orders, whichever command says them."""

import json
import unicodedata
from pathlib import Path

import pytest

from nesting.cli.terminal import CleanConsole, clean
from tests.nesting.cli.conftest import QUICK, Nesting
from tests.nesting.cli.sheets import GOOD
from tests.places import ROOT

HOSTILE = "T\\u001b]0;owned\\u0007\\u202e\\u009b2J\\u2066"
SHOWN = "T\\x1b]0;owned\\x07\\u202e"
SHEET = (
    GOOD.replace("Tote of the [bold]prompter", HOSTILE)
    .replace('title = "Body"', f'title = "{HOSTILE}"')
    .replace('"body"', f'"{HOSTILE}"')
    .replace("[pieces.body", f'[pieces."{HOSTILE}"')
    .replace("[views.A]", f'[views."{HOSTILE}"]')
    .replace('["one"]', f'["{HOSTILE}"]')
    .replace("sizes.one]", f'sizes."{HOSTILE}"]')
    .replace("shell", f'"{HOSTILE}"')
)
WIDTH = ("--width", "1m", *QUICK)
SAYING = {
    "lay": ("lay", "bad.toml", *WIDTH, "--out", "m.json"),
    "lay, in JSON": ("lay", "bad.toml", *WIDTH, "--json"),
    "lay, a view that is not there": ("lay", "bad.toml", *WIDTH, "--view", "A"),
    "compare": ("compare", "bad.toml", *WIDTH, "--nap", "both"),
    "compare, too narrow": ("compare", "bad.toml", "--width", "20cm", *QUICK),
    "chart": ("chart", "bad.toml", *WIDTH),
    "catalogue": ("catalogue", "sheets", *WIDTH, "--out", "c.csv"),
    "fits": ("fits", "bad.toml", "--have", "1m x 10cm", "--effort", "quick"),
    "shop": ("shop", "bad.toml", "--effort", "quick"),
    "check": ("check", "m.json"),
    "import": ("import", "bad.svg", "--out", "b.toml"),
}


@pytest.fixture(autouse=True)
def inputs(folder: Path, nesting: Nesting) -> None:
    """Write a sheet whose every name is hostile, a marker of it, and a drawing."""
    (folder / "bad.toml").write_text(SHEET, encoding="utf-8")
    (folder / "sheets").mkdir()
    spoilt = SHEET.replace("format = 1", "format = 2")
    (folder / "sheets" / "b\u202eowned.toml").write_text(spoilt, encoding="utf-8")
    assert nesting(*SAYING["lay"]).code == 0
    assert nesting("export", "bad.toml", "--out", "bad.svg").code == 0


@pytest.mark.parametrize("typed", SAYING.values(), ids=SAYING)
def test_no_name_comes_out_as_an_order(nesting: Nesting, typed: tuple[str, ...]) -> None:
    """Neither escape sequences nor letters that turn the direction, on either stream."""
    answer = nesting(*typed)

    assert answer.code in (0, 1, 2)
    told = answer.out + answer.err
    assert "owned" in told, told
    assert [c for c in told if unicodedata.category(c) in ("Cc", "Cf") and c != "\n"] == []


def test_json_says_the_name_as_it_is(nesting: Nesting) -> None:
    """The codes are those of JSON, so machines read the same letters."""
    answer = nesting(*SAYING["lay, in JSON"])

    assert "\x1b" not in answer.out
    assert json.loads(f'"{HOSTILE}"') == answer.json["pattern"]


def test_letters_of_people_stay() -> None:
    """Accents, other scripts, thin spaces and joiners are no orders."""
    told = "Ärmel \u2013 3,5\u202fm; \u0646\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645 \u65b9"

    assert clean(told) == told


def test_colours_are_the_console_s_own_orders(capsys: pytest.CaptureFixture[str]) -> None:
    """Only the words are clean."""
    CleanConsole(force_terminal=True, color_system="standard").print("a\x1bcb", style="bold red")

    told = capsys.readouterr().out
    assert "a\\x1bcb" in told
    assert told.startswith("\x1b[1;31m")


def test_there_is_one_way_out() -> None:
    """No command makes a console of its own, or echoes by itself; help holds no names."""
    texts = {path.name: path.read_text() for path in (ROOT / "nesting" / "cli").glob("*.py")}
    del texts["terminal.py"]

    assert [name for name, text in texts.items() if "import Console" in text] == []
    echoes = {name: text.count("typer.echo(") for name, text in texts.items()}
    assert {name: count for name, count in echoes.items() if count} == {"app.py": 1}
