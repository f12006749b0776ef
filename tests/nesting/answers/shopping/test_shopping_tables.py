"""JSON, CSV, Markdown and words of one list say the same."""

import csv
import io
import json
from dataclasses import replace
from decimal import Decimal

import pytest

from nesting.answers.shopping.shopping import ClothChoice, ShoppingList, shop
from nesting.answers.shopping.shopping_tables import (
    CSV_COLUMNS,
    shopping_csv,
    shopping_markdown,
    shopping_row,
)
from nesting.answers.shopping.shopping_words import (
    cloth_words,
    notion_words,
    size_words,
    total_words,
)
from nesting.cloth.bolt import Bolt
from pieces.finding import Finding, Severity
from pieces.measures.units import UnitSystem
from tests.nesting.small_shop import asked, bag, metric_bolt


@pytest.fixture(scope="module")
def shopping() -> ShoppingList:
    """Return the list of one lined bag."""
    return shop(asked())


def rows_of(text: str) -> list[dict[str, str]]:
    """Return the lines of a CSV."""
    return list(csv.DictReader(io.StringIO(text)))


def test_all_three_agree_on_lengths_and_prices(shopping: ShoppingList) -> None:
    """Name, words of the amount, mm and cost of each cloth are the same everywhere."""
    row, lines = shopping_row(shopping), rows_of(shopping_csv(shopping))
    text = shopping_markdown(shopping)
    cloths = [line for line in lines if line["what"] == "cloth"]

    for told, line in zip(row["cloths"], cloths, strict=True):
        assert line["name"] == told["cloth"]
        assert float(line["length_mm"]) == told["shop_length_mm"]
        assert line["amount"].startswith(told["shop_length"])
        assert line["cost"] == told["cost"]
        assert f"| {line['name']} | **{line['amount']}** |" in text
        assert line["cost"] in text
    assert sum(Decimal(line["cost"]) for line in cloths) == Decimal("14.18")
    assert row["totals"] == [{"currency": "€", "amount": "14.18"}]
    assert "Together: € 14.18, without notions." in text


def test_all_three_agree_on_notions(shopping: ShoppingList) -> None:
    """Three buttons, 1.2 m of cord and an estimate of thread."""
    row, lines = shopping_row(shopping), rows_of(shopping_csv(shopping))
    text = shopping_markdown(shopping)
    notions = [line for line in lines if line["what"] == "notion"]

    for told, line in zip(row["notions"], notions, strict=True):
        assert line["name"] == told["name"]
        assert line["amount"] == told["amount"]
        assert line["count"] == ("" if told["count"] is None else str(told["count"]))
        assert f"| {line['amount']} | {line['name']} |" in text
    assert [line["amount"] for line in notions] == [
        "3",
        "1.20 m (47.25 in)",
        "1 reel of 100 m (110 yd)",
    ]


def test_json_is_plain_and_keeps_every_cent(shopping: ShoppingList) -> None:
    """It goes through JSON and back unchanged; money is text."""
    row = shopping_row(shopping)

    assert json.loads(json.dumps(row)) == row
    assert row["garments"] == [{"view": "B", "size": "M", "garments": 1}]
    assert [cloth["cost"] for cloth in row["cloths"]] == ["6.18", "8.00"]
    assert row["cloths"][0]["ask_for"] == "Canvas, since it is firm."
    assert row["cloths"][0]["is_suggested"] is True
    assert row["notions"][0]["size"] == "15 mm, 9/16 in, 24 ligne"
    assert row["cautions"] == ["Pins are sharp."]
    assert any("Measure the width" in told for told in row["before_you_cut"])


def test_csv_has_its_columns_and_cells_a_spreadsheet_cannot_run() -> None:
    """A name that begins like a formula has an apostrophe before it."""
    sheet = bag()
    thread = replace(sheet.notions[-1], name="=1+1")
    text = shopping_csv(shop(asked(sheet=replace(sheet, notions=(thread,)))))

    assert tuple(text.splitlines()[0].split(",")) == CSV_COLUMNS
    assert rows_of(text)[-1]["name"] == "'=1+1"


def test_markdown_keeps_odd_letters_in_their_cells(shopping: ShoppingList) -> None:
    """A bar in a name does not open a new cell, and each table row has its columns."""
    text = shopping_markdown(shopping)

    assert text.startswith("# Bag \\| of the stage\n")
    rows = [line for line in text.splitlines() if line.startswith("| \N{BALLOT BOX}")]
    assert [row.replace("\\|", "").count("|") for row in rows] == [7, 7, 5, 5, 5]


def test_a_learner_is_told_which_cloth_and_why(shopping: ShoppingList) -> None:
    """What it is for, which to ask for, what suits, this bolt, and how another would hang."""
    shell, lining = (cloth_words(line) for line in shopping.cloths)

    assert shell.notes == (
        ("What for", "The outside."),
        ("Ask for", "Canvas, since it is firm."),
        ("Suggested", "canvas, drill"),
        ("This bolt", "canvas, which the pattern suggests"),
        ("Other cloth", "A slippery one sags."),
    )
    assert lining.notes == (("What for", "The inside."), ("This bolt", "silk"))
    assert shell.bolt == "100 cm (39.37 in) wide, without nap, laid open"
    assert (shell.price, shell.cost) == ("€ 12.35/m", "€ 6.18")


def test_a_bolt_that_is_not_suggested_is_told_so() -> None:
    """It is not forbidden: sew a sample."""
    line = shop(asked(shell=ClothChoice(metric_bolt(1000), kind="silk"))).cloths[0]

    assert ("This bolt", "silk, which is not among the suggested: sew a sample first") in (
        cloth_words(line).notes
    )


def test_what_is_particular_about_a_bolt_is_told() -> None:
    """Shrinkage stands with the width."""
    bolt = Bolt(width_mm=1000.0, shrink_along=0.03)

    told = cloth_words(shop(asked(shell=ClothChoice(bolt))).cloths[0]).bolt

    assert told.endswith("laid open; shrinkage: 3% along, 0% across")


def test_sizes_are_told_as_they_are_sold(shopping: ShoppingList) -> None:
    """A button in mm, inches and ligne; a cord without a size in nothing."""
    button, cord, thread = shopping.notions

    assert size_words(button) == "15 mm, 9/16 in, 24 ligne"
    assert size_words(cord) == ""
    assert "estimated from the seams" in notion_words(thread, UnitSystem.METRIC).detail
    assert notion_words(thread, UnitSystem.IMPERIAL).amount == "1 reel of 110 yd (100 m)"


def test_a_total_says_what_it_leaves_out() -> None:
    """The lining has no price here, and notions never have one; without prices there is none."""
    part = shop(asked(lining=ClothChoice(metric_bolt(500))))
    free = ClothChoice(metric_bolt(1000))

    assert total_words(part) == "€ 6.18, without lining, notions"
    assert total_words(shop(asked(shell=free, lining=free))) == ""


@pytest.mark.parametrize(
    ("severity", "words"),
    [(Severity.ERROR, "Not ready to cut: shell, a lies on b."),
     (Severity.WARNING, "Mind: shell, a lies on b.")],
)  # fmt: skip
def test_what_the_check_found_stands_in_the_list(
    shopping: ShoppingList, severity: Severity, words: str
) -> None:
    """Nobody cuts a marker with an error because the list kept silent."""
    shell, lining = shopping.cloths
    found = replace(shell.result, findings=(Finding("overlap", severity, "a lies on b", ()),))
    faulty = replace(shopping, cloths=(replace(shell, result=found), lining))

    assert f"**{words}**" in shopping_markdown(faulty)
    assert words not in shopping_markdown(shopping)
