"""``--spread``: every way can be typed, best tells what each takes, refusals the way out."""

from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Nesting

LAY = ("lay", "tote.toml", "--width", "100cm", *QUICK)


@pytest.mark.parametrize("way", ["open", "lengthwise", "crosswise", "turned", "double"])
def test_every_way_is_laid_and_told(nesting: Nesting, way: str) -> None:
    """The answer names it, and the check has nothing against it."""
    answer = nesting(*LAY, "--spread", way, "--json")

    assert answer.code == 0
    assert (answer.json["spread"], answer.json["findings"]) == (way, [])
    assert "spreads" not in answer.json


def test_best_lists_every_way(nesting: Nesting) -> None:
    """A row for each, with its lengths or the reason; the one kept asks for least."""
    row = nesting(*LAY, "--nap", "with", "--spread", "best", "--json").json

    ways = {one["spread"]: one for one in row["spreads"]}
    assert list(ways) == ["open", "lengthwise", "crosswise", "turned", "double"]
    assert ways["crosswise"]["shop_length_mm"] is None
    assert "end for end" in ways["crosswise"]["refusal"]
    lengths = [one["shop_length_mm"] for one in ways.values() if one["refusal"] is None]
    assert row["shop_length_mm"] == min(lengths)
    assert ways[row["spread"]]["cut_length_mm"] == row["cut_length_mm"]


def test_best_prints_what_each_takes(nesting: Nesting) -> None:
    """And why crosswise is not among them."""
    printed = nesting(*LAY, "--nap", "with", "--spread", "best").out

    for words in ("laid open", "folded double", "cut across and turned", "no"):
        assert words in printed
    assert "turns one layer end for end" in " ".join(printed.split())


def test_a_refused_way_is_bad_input(nesting: Nesting) -> None:
    """One sentence with the reason and the way out, exit 2."""
    answer = nesting(*LAY, "--nap", "with", "--spread", "crosswise")

    assert answer.code == 2
    assert "turn one layer (turned)" in answer.err


def test_compare_and_fits_take_it_as_well(nesting: Nesting) -> None:
    """A row of a comparison tells which way was best, and what is owned is tried every way."""
    compared = nesting(
        "compare", "tote.toml", "--width", "100cm", "--spread", "best", *QUICK, "--json"
    )
    fits = nesting(
        "fits", "tote.toml", "--have", "1m x 100cm", "--spread", "best", *QUICK, "--json"
    )

    assert compared.json["rows"][0]["spread"] in ("open", "lengthwise", "double")
    assert len(compared.json["rows"][0]["spreads"]) == 5
    assert fits.code == 0


def test_a_chart_may_be_of_the_best(nesting: Nesting) -> None:
    """Every cell is laid every way, and the foot says so."""
    answer = nesting(
        "chart", "tote.toml", "--width", "100cm", "--nap", "without", "--spread", "best", *QUICK
    )

    assert answer.code == 0
    assert "spread the best way" in " ".join(answer.out.split())


def test_a_comparison_tells_a_bolt_that_may_not_be_spread_so(nesting: Nesting) -> None:
    """It is not said to be too narrow, and the reason stands below."""
    answer = nesting(
        "compare", "tote.toml", "--width", "1m", "--nap", "both", "--spread", "crosswise", *QUICK
    )

    printed = " ".join(answer.out.split())
    assert "not spread so" in printed
    assert "does not fit" not in printed
    assert "turns one layer end for end" in printed


def test_shop_and_order_take_the_best_way(nesting: Nesting, folder: Path) -> None:
    """A bolt of the shopping list may be spread best, and so may that of a class list."""
    (folder / "class.csv").write_text("view,size,count\nA,one,2\n", encoding="utf-8")

    shop = nesting("shop", "tote.toml", "--bolt", "shell 100cm best", *QUICK, "--json")
    order = nesting(
        "order",
        "class.csv",
        "--pattern",
        "tote.toml",
        "--width",
        "100cm",
        "--spread",
        "best",
        *QUICK,
        "--json",
    )

    assert (shop.code, order.code) == (0, 0), shop.err + order.err
