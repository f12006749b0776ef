"""A shopping list for people, on standard output."""

from collections.abc import Sequence

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.shopping.shopping import ShoppingList
from nesting.answers.shopping.shopping_words import (
    BEFORE_YOU_CUT,
    cloth_words,
    finding_words,
    garment_words,
    notion_words,
    total_words,
    units_of,
)
from nesting.cli.terminal import CleanConsole
from nesting.languages import Words


def print_shopping(shopping: ShoppingList, words: Words) -> None:
    """Print a shopping list: cloths, what to ask for, notions, and what to mind."""
    console = CleanConsole()
    title = f"{shopping.request.pattern.name}, {garment_words(shopping, words)}"
    console.print(Text(title, style="bold"))
    console.print(_cloths(shopping, words))
    if total := total_words(shopping, words):
        console.print(Text(f"{words.say('Together:')} {total}", style="bold"))
    for line in shopping.cloths:
        told = cloth_words(line, words)
        if told.notes:
            console.print(Text(f"\n{told.name}", style="bold"))
        for heading, note in told.notes:
            console.print(Text(f"  {heading}: {note}"))
    console.print(_notions(shopping, words))
    _print_list(console, words.say("Before you cut"), tuple(map(words.say, BEFORE_YOU_CUT)))
    _print_list(console, words.say("Take care"), shopping.cautions)
    for sentence in finding_words(shopping, words):
        console.print(Text(sentence, style="bold red"))


def _cloths(shopping: ShoppingList, words: Words) -> Table:
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    table.add_column(words.say("Cloth"), style="bold")
    table.add_column(words.say("Ask for"), style="bold green")
    table.add_column(words.say("Bolt"))
    priced = bool(shopping.totals)
    if priced:
        table.add_column(words.say("Price"), justify="right")
        table.add_column(words.say("Costs"), justify="right", no_wrap=True)
    for line in shopping.cloths:
        told = cloth_words(line, words)
        cells = [told.name, told.ask, told.bolt, told.price, told.cost]
        table.add_row(*(Text(cell) for cell in (cells if priced else cells[:3])))
    return table


def _notions(shopping: ShoppingList, words: Words) -> Table:
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    table.add_column(words.say("What"), style="bold")
    table.add_column(words.say("How much"), style="bold green")
    table.add_column(words.say("Details"))
    for line in shopping.notions:
        told = notion_words(line, units_of(shopping), words)
        table.add_row(*(Text(cell) for cell in (told.name, told.amount, told.detail)))
    return table


def _print_list(console: CleanConsole, heading: str, sentences: Sequence[str]) -> None:
    if sentences:
        console.print(Text(heading, style="bold"))
    for sentence in sentences:
        console.print(Text(f"- {sentence}"))
