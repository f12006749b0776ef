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
from nesting.languages import ENGLISH, Words


def print_explanation(explanation: Explanation, words: Words = ENGLISH) -> None:
    """Print the bars of the waterfall as a table, each rule with what is asked for without it."""
    console = CleanConsole()
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False, title=words.say("What each rule costs"))
    table.title_justify = "left"
    table.title_style = "bold"
    table.add_column(words.say("Rule"))
    table.add_column(words.say("Adds"), justify="right")
    has_cost = explanation.bare_cost is not None
    if has_cost:
        table.add_column(words.say("Costs"), justify="right", no_wrap=True)
    table.add_column(words.say("Without it alone, ask for"))
    without = [_without(explanation, one, words) for one in reversed(explanation.prices)]
    bars = explain_bars(explanation, words)
    for bar, alone in zip(bars, ("", *without, ""), strict=True):
        name = Text(bar.name, style="" if bar.kind is BarKind.SHARE else "bold")
        if bar.detail:
            name.append(f"\n{bar.detail}", style="not bold dim")
        cells = [Text(bar.length), *([Text(bar.cost)] if has_cost else []), Text(alone)]
        table.add_row(name, *cells, end_section=bar.kind is not BarKind.SHARE)
    console.print(table)
    console.print(Text("\n".join(explain_sentences(explanation, words))))
    for sentence in rule_of_thumb_sentences(explanation, words):
        console.print(Text(sentence))


def _without(explanation: Explanation, one: RulePrice, words: Words) -> str:
    """Return what to ask for without one rule, and its cost on a line of its own."""
    length = length_words(explanation, one.shop_without_mm, words, up=True)
    cost = cost_words(explanation, one.cost_without, words)
    return length + "\n" + words.say("at {cost}", cost=cost) if cost else length
