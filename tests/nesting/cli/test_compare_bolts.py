"""``nesting compare --bolts``: the shop's list, ranked."""

from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Nesting

# On 100 cm the tote takes 60 cm, on 50 cm 110 cm (see test_compare_command).
SHELF = """\
[[bolts]]
name = "wide drill"
width = "100cm"
price = "10/m"

[[bolts]]
name = "narrow drill"
width = "50cm"
price = "4/m"

[[bolts]]
name = "remnant"
width = "100cm"
length_left = "55cm"
price = "1/m"
"""


@pytest.fixture
def shelf(folder: Path) -> str:
    """Return the name of a list of three bolts."""
    (folder / "shelf.toml").write_text(SHELF, encoding="utf-8")
    return "shelf.toml"


def test_bolts_are_ranked_by_what_the_garment_costs(nesting: Nesting, shelf: str) -> None:
    """110 cm at 4 is 4.40, 60 cm at 10 is 6.00; of the remnant 5 cm lack."""
    answer = nesting("compare", "tote.toml", "--bolts", shelf, *QUICK, "--json")

    rows = answer.json["rows"]
    assert answer.code == 0
    assert [row["name"] for row in rows] == ["narrow drill", "wide drill", "remnant"]
    assert [row["cost"] for row in rows[:2]] == [4.4, 6.0]
    assert rows[2]["lacking_mm"] == pytest.approx(50.0, abs=0.01)
    assert answer.json["advice"] == [
        "Take 1.10 m (43.31 in) of narrow drill for 4.40.",
        "The next, wide drill, costs 1.60 more.",
    ]


def test_the_table_says_why_a_bolt_will_not_do(nesting: Nesting, shelf: str) -> None:
    """And a picture shows all that could be laid."""
    answer = nesting("compare", "tote.toml", "--bolts", shelf, *QUICK, "--draw", "shelf.svg")

    printed = " ".join(answer.out.split())
    assert "too little is left" in printed
    assert "Take 1.10 m" in printed
    assert "narrow drill" in Path("shelf.svg").read_text(encoding="utf-8")


def test_where_none_will_do_the_answer_is_no(nesting: Nesting, folder: Path) -> None:
    """One remnant, and it is too short: exit 1."""
    (folder / "shelf.toml").write_text(SHELF[SHELF.rindex("[[bolts]]") :], encoding="utf-8")

    answer = nesting("compare", "tote.toml", "--bolts", "shelf.toml", *QUICK)

    assert answer.code == 1
    assert "None of these bolts will do." in answer.out


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (("--width", "1m"), "--width: --bolts says it of each bolt"),
        (("--nap", "both"), "--nap: --bolts says it"),
        (("--repeat-along", "4in"), "--repeat-along: --bolts says it"),
        (("--flaw", "1in,1in,1in,1in"), "--flaw: --bolts says it"),
    ],
)
def test_what_the_list_says_is_not_said_twice(
    nesting: Nesting, shelf: str, more: tuple[str, ...], words: str
) -> None:
    """Each bolt has its own facts, so an option for all of them is refused."""
    answer = nesting("compare", "tote.toml", "--bolts", shelf, *more, *QUICK)

    assert answer.code == 2
    assert words in answer.err


def test_a_list_with_a_fault_is_bad_input(nesting: Nesting, folder: Path) -> None:
    """One sentence with the file and the bolt."""
    (folder / "shelf.toml").write_text(SHELF.replace("100cm", "wide", 1), encoding="utf-8")

    answer = nesting("compare", "tote.toml", "--bolts", "shelf.toml", *QUICK)

    assert answer.code == 2
    assert 'bolt list shelf.toml: bolt "wide drill", width: ' in answer.err
