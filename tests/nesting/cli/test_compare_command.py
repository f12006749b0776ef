"""``nesting compare``: rows, refusals and advice."""

from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Nesting

# On 100 cm the tote takes 60 cm (see test_lay_command). On 50 cm the bodies of 40 x 50 cm follow
# one another with a strap of 10 x 60 cm on the free side of each: the first from 0 to 50 with a
# strap above until 60, the second from 60 to 110 with a strap below from 50. That is 110 cm; 100
# would be too short, since the area of 5,200 cm2 alone needs 104.
BOTH = ("compare", "tote.toml", "--width", "50cm", "--width", "100cm", *QUICK)


def test_rows_stand_in_the_order_typed(nesting: Nesting) -> None:
    """A row for each width, each with the facts of a lay."""
    answer = nesting(*BOTH, "--json")

    rows = answer.json["rows"]

    assert answer.code == 0
    assert [row["width_mm"] for row in rows] == [500.0, 1000.0]
    assert [row["shop_length_mm"] for row in rows] == [1100.0, 600.0]
    assert [row["refusal"] for row in rows] == [None, None]
    assert answer.json["advice"] == [
        "The 100 cm bolt needs 60 cm (23.63 in), 50 cm (19.69 in) less than the 50 cm bolt."
    ]


def test_both_naps_give_two_rows_a_width(nesting: Nesting) -> None:
    """Without nap first; these pieces are symmetric, so nap costs nothing."""
    answer = nesting(*BOTH, "--nap", "both", "--json")

    rows = answer.json["rows"]

    assert [row["nap"] for row in rows] == ["without", "with"] * 2
    assert (
        "Nap costs nothing on the 50 cm bolt and nothing on the 100 cm bolt."
        in (answer.json["advice"])
    )


def test_one_price_holds_for_all_widths(nesting: Nesting) -> None:
    """1.10 m and 0.60 m at 10 for a metre."""
    rows = nesting(*BOTH, "--price", "10/m", "--json").json["rows"]

    assert [row["cost"] for row in rows] == [11.0, 6.0]


def test_prices_follow_the_widths(nesting: Nesting) -> None:
    """The narrow bolt at 4 for a metre costs 4.40, the wide one at 10 costs 6.00."""
    answer = nesting(*BOTH, "--price", "4/m", "--price", "10/m", "--json").json

    assert [row["cost"] for row in answer["rows"]] == [4.4, 6.0]
    assert (
        "the 50 cm bolt is cheapest at 4.40, 1.60 less than the 100 cm bolt."
        in (answer["advice"][0])
    )


def test_a_refused_row_says_why_and_the_rest_is_laid(nesting: Nesting) -> None:
    """No body of 40 cm goes on 30 cm; exit stays 0 since the other bolt serves."""
    narrow = ("compare", "tote.toml", "--width", "30cm", "--width", "100cm", *QUICK)

    rows = nesting(*narrow, "--json").json["rows"]
    answer = nesting(*narrow)

    assert answer.code == 0
    assert 'piece "Body", size one, needs 40 cm' in rows[0]["refusal"]
    assert rows[0]["shop_length_mm"] is None
    assert "does not fit" in answer.out
    assert '30 cm, without nap: piece "Body"' in answer.out
    assert "It does not go on the 30 cm bolt." in answer.out


def test_exit_is_two_if_no_bolt_serves(nesting: Nesting) -> None:
    """Every row refused, and still one JSON answer."""
    answer = nesting("compare", "tote.toml", "--width", "30cm", *QUICK, "--json")

    assert answer.code == 2
    assert len(answer.json["rows"]) == 1


def test_the_table_shows_each_bolt(nesting: Nesting) -> None:
    """Width, length to ask for in both units, use and cost in one line."""
    out = nesting(*BOTH, "--price", "£10/m").out
    wide = next(line for line in out.splitlines() if line.strip().startswith("100 cm"))

    assert "without" in wide
    assert "60 cm (23.63 in)" in wide
    assert "86.7%" in wide
    assert "£ 6.00" in wide


def test_a_narrow_terminal_puts_the_other_unit_below(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At 80 columns no length is broken inside."""
    monkeypatch.setenv("COLUMNS", "80")

    out = nesting(*BOTH, "--nap", "both", "--price", "£10/m").out

    assert max(len(line) for line in out.splitlines()) <= 80
    assert "(23.62 in)" in out


def test_the_rows_are_drawn(nesting: Nesting, folder: Path) -> None:
    """One picture of all bolts that serve."""
    answer = nesting(*BOTH, "--width", "30cm", "--draw", "all.svg")

    assert answer.code == 0
    assert "Written: all.svg" in answer.out
    assert (folder / "all.svg").read_bytes().lstrip().startswith(b"<")
