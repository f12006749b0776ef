"""What each rule costs, for people: a table of what makes up the length to ask for."""

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.costs import Explanation, RulePrice
from nesting.answers.costs_tables import (
    cost_words,
    explain_bars,
    explain_sentences,
    length_words,
    rule_of_thumb_sentences,
)
from nesting.cli.terminal import CleanConsole
from nesting.draw.waterfall_scene import BarKind


def print_explanation(explanation: Explanation) -> None:
    """Print the bars of the waterfall as a table, each rule with what is asked for without it."""
    console = CleanConsole()
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False, title="What each rule costs")
    table.title_justify = "left"
    table.title_style = "bold"
    table.add_column("Rule")
    table.add_column("Adds", justify="right")
    has_cost = explanation.bare_cost is not None
    if has_cost:
        table.add_column("Costs", justify="right", no_wrap=True)
    table.add_column("Without it alone, ask for")
    without = [_without(explanation, one) for one in reversed(explanation.prices)]
    bars = explain_bars(explanation)
    for bar, alone in zip(bars, ("", *without, ""), strict=True):
        name = Text(bar.name, style="" if bar.kind is BarKind.SHARE else "bold")
        if bar.detail:
            name.append(f"\n{bar.detail}", style="not bold dim")
        cells = [Text(bar.length), *([Text(bar.cost)] if has_cost else []), Text(alone)]
        table.add_row(name, *cells, end_section=bar.kind is not BarKind.SHARE)
    console.print(table)
    for sentence in (*explain_sentences(explanation), *rule_of_thumb_sentences(explanation)):
        console.print(Text(sentence))


def _without(explanation: Explanation, one: RulePrice) -> str:
    """Return what to ask for without one rule, and its cost on a line of its own."""
    words = length_words(explanation, one.shop_without_mm)
    cost = cost_words(explanation, one.cost_without)
    return f"{words}\nat {cost}" if cost else words
