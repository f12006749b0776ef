"""A chart as CSV, Markdown and plain values: the same figures in each, and what is odd told."""

import csv
import io
from dataclasses import replace

from nesting.answers.chart.chart_tables import (
    chart_csv,
    chart_markdown,
    chart_row,
    foot_words,
    odd_words,
)
from tests.nesting.small_charts import chart


def test_csv_has_a_line_for_each_cell() -> None:
    """16 cells under their heads; the small panel on 45 mm asks for 10 cm (see test_chart)."""
    lines = list(csv.DictReader(io.StringIO(chart_csv(chart()))))

    (line,) = [
        one
        for one in lines
        if (one["view"], one["size"], one["width_mm"], one["nap"]) == ("B", "M", "45.0", "with")
    ]
    assert len(lines) == 16
    assert (line["shop_length"], line["shop_length_mm"], line["refusal"]) == ("10 cm", "100.0", "")


def test_markdown_has_a_table_for_each_view() -> None:
    """Sizes across, bolts down, and a dash where a piece is too wide, with the reason below."""
    text = chart_markdown(chart())

    assert "## View A" in text
    assert "| Width | M | L |" in text
    block = text.split("## View B")[1]
    assert "| 4.5 cm, without nap | 10 cm (3.94 in) | \N{EM DASH} |" in block
    assert "| 12 cm, with nap | 10 cm (3.94 in) | 20 cm (7.88 in) |" in block
    assert 'piece "Panel", size L, needs 5 cm across the cloth' in block


def test_plain_values_have_the_fields_of_a_comparison() -> None:
    """A row for each cell, and the notes."""
    row = chart_row(chart())

    assert (row["views"], row["sizes"], len(row["rows"])) == (["A", "B"], ["M", "L"], 16)
    assert row["rows"][0]["refusal"] is not None
    assert row["notes"] == list(foot_words(chart()))


def test_a_larger_size_that_asks_for_less_is_told() -> None:
    """With the figures of M and L exchanged, the chart owns up; as laid, there is nothing odd."""
    made = chart()
    swapped = replace(
        made, rows=made.rows | {("B", "M"): made.rows["B", "L"], ("B", "L"): made.rows["B", "M"]}
    )

    assert odd_words(made) == ()
    assert [told.split(":")[0] for told in odd_words(swapped)] == [
        "View B, 12 cm, without nap",
        "View B, 12 cm, with nap",
    ]
    assert "size L asks for less than size M" in odd_words(swapped)[0]


def test_dashes_are_explained_once_for_each_view_and_width() -> None:
    """On 45 mm neither size of view A goes, nor the large one of view B, with nap or without."""
    told = [words for words in foot_words(chart()) if words.startswith("\N{EM DASH}")]

    assert [words.split(": ")[0] for words in told] == [
        "\N{EM DASH} View A, 4.5 cm, size M, L",
        "\N{EM DASH} View B, 4.5 cm, size L",
    ]
