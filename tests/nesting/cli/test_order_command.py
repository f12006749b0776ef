"""``nesting order``: a class list in, one marker and who gets what out."""

from pathlib import Path

import pytest

from nesting.marker.marker_file import read_marker
from tests.nesting.cli.conftest import QUICK, Nesting

LIST = "\N{BYTE ORDER MARK}Name;View;Size;Count\nIda;A;one;1\nJo;A;one;2\n"
ORDER = ("order", "class.csv", "--pattern", "tote.toml", "--width", "1m", *QUICK)


@pytest.fixture(autouse=True)
def class_list(folder: Path) -> None:
    """Put a list of three garments into the folder."""
    (folder / "class.csv").write_text(LIST, encoding="utf-8")


def test_one_marker_for_all(nesting: Nesting) -> None:
    """Twelve pieces; each tote alone asks for 60 cm (see test_lay_command), so 1.80 m."""
    told = nesting(*ORDER, "--json").json

    assert (told["placed"], told["garments"]) == (12, 3)
    assert told["alone_shop_length_mm"] == 1800.0
    assert told["saved_mm"] == 1800.0 - told["shop_length_mm"] >= 0.0
    assert [(one["label"], one["count"]) for one in told["participants"]] == [("Ida", 1), ("Jo", 2)]
    assert {(one["piece"], one["count"]) for one in told["participants"][1]["pieces"]} == {
        ("Body", 4),
        ("Strap", 4),
    }


def test_people_read_who_gets_what(nesting: Nesting) -> None:
    """After the length to ask for."""
    answer = nesting(*ORDER, "--price", "10/m")

    assert answer.code == 0
    assert "Ask for" in answer.out
    assert "Each garment bought by itself asks for 1.80 m (70.87 in) in all" in answer.out
    assert "4 Body; 4 Strap" in answer.out


def test_marker_picture_and_table_say_for_whom(nesting: Nesting, folder: Path) -> None:
    """All three files, and the marker passes the check."""
    answer = nesting(*ORDER, "--out", "o.json", "--draw", "o.svg", "--csv", "o.csv")

    assert answer.code == 0
    assert "for Ida" in (folder / "o.svg").read_text(encoding="utf-8")
    assert "1,Ida,Ida,A,one,1,2 Body; 2 Strap" in (folder / "o.csv").read_text(encoding="utf-8")
    assert {item.size for item in read_marker(folder / "o.json").items} == {
        "one for Ida",
        "one for Jo",
    }
    assert nesting("check", "o.json").code == 0


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "order list class.csv, line 1: it is empty"),
        ("view,size,count\n", "order list class.csv, line 1: nobody is on the list"),
        ("view,size,count\nB,one,1\n", 'class.csv, line 2: no view "B"'),
        ("view,size,count\nA,XL,1\n", 'class.csv, line 2: no size "XL"'),
        ("view,size,count\nA,one,some\n", 'class.csv, line 2: "some" is no number of garments'),
    ],
)
def test_a_bad_list_is_one_sentence(nesting: Nesting, folder: Path, text: str, told: str) -> None:
    """Exit code 2, the file and the line."""
    (folder / "class.csv").write_text(text, encoding="utf-8")

    answer = nesting(*ORDER)

    assert answer.code == 2
    assert told in answer.err


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--cloth", "lining"), 'no cloth "lining"'),
        (("--price", "12"), "--price"),
        (("--out", "o.txt"), "--out: o.txt must end in .json"),
        (("--csv", "o.txt"), "--csv: o.txt must end in .csv"),
        (("--flaw", "1,2"), "--flaw"),
    ],
)
def test_bad_options_are_one_sentence(nesting: Nesting, typed: tuple[str, ...], told: str) -> None:
    """Exit code 2, and what was wrong."""
    answer = nesting(*ORDER, *typed)

    assert answer.code == 2
    assert told in answer.err
    assert "Traceback" not in answer.err


def test_a_missing_list_is_told(nesting: Nesting) -> None:
    """By its name."""
    answer = nesting("order", "none.csv", "--pattern", "tote.toml", "--width", "1m", *QUICK)

    assert answer.code == 2
    assert "order list none.csv does not exist" in answer.err
