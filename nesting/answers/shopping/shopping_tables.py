"""A shopping list as plain values for JSON, and as CSV and Markdown text; all say the same."""

import re
from typing import Any

from nesting.answers.rows import Row, lay_row
from nesting.answers.shopping.shopping import ClothLine, NotionLine, ShoppingList
from nesting.answers.shopping.shopping_words import (
    BEFORE_YOU_CUT,
    cloth_words,
    finding_words,
    garment_words,
    notion_words,
    size_words,
    total_words,
    units_of,
)
from nesting.languages import ENGLISH, Words, marked
from pieces.files.csv_text import csv_table
from pieces.measures.units import UnitSystem

CSV_COLUMNS = (
    "what",
    "name",
    "amount",
    "count",
    "length_mm",
    "details",
    "price",
    "cost",
    "currency",
)
_CLOTH_COLUMNS = (
    marked("Cloth"),
    marked("Ask for"),
    marked("Bolt"),
    marked("Price"),
    marked("Costs"),
)
_NOTION_COLUMNS = marked("How much"), marked("What"), marked("Details")
_TICK = "\N{BALLOT BOX}"


def shopping_row(shopping: ShoppingList) -> Row:
    """Return a shopping list as plain values; money is text, so that no cent is lost.

    Each cloth has the fields of :func:`nesting.answers.rows.lay_row`, and its pattern's words.
    """
    units = units_of(shopping)
    return {
        "pattern": shopping.request.pattern.name,
        "garments": [
            {"view": one.view, "size": one.size, "garments": one.garments}
            for one in shopping.request.selections
        ],
        "cloths": [_cloth_row(line) for line in shopping.cloths],
        "notions": [_notion_row(line, units) for line in shopping.notions],
        "totals": [
            {"currency": currency, "amount": str(amount)}
            for currency, amount in shopping.totals.items()
        ],
        "unpriced": list(shopping.unpriced),
        "before_you_cut": list(BEFORE_YOU_CUT),
        "cautions": list(shopping.cautions),
    }


def _cloth_row(line: ClothLine) -> Row:
    row = lay_row(line.request, line.result)
    row |= {
        "kind": line.choice.kind,
        "about": line.need.about,
        "ask_for": line.need.ask_for,
        "suggested": list(line.need.suggested),
        "is_suggested": line.is_suggested,
        "hang": line.need.hang,
    }
    if line.cost is not None:
        row["cost"] = str(line.cost)
    return row


def _notion_row(line: NotionLine, units: UnitSystem) -> Row:
    words = notion_words(line, units)
    return {
        "name": words.name,
        "amount": words.amount,
        "count": line.count,
        "length_mm": line.length_mm,
        "is_estimate": line.is_estimate,
        "reels": line.reels,
        "kind": line.notion.kind.value,
        "size_mm": line.notion.size_mm,
        "size": size_words(line),
        "detail": line.notion.detail,
    }


def shopping_csv(shopping: ShoppingList) -> str:
    """Return a shopping list as CSV: a line for each cloth and notion, lengths in mm."""
    units = units_of(shopping)
    cloths = (_cloth_cells(line) for line in shopping.cloths)
    notions = (_notion_cells(line, units) for line in shopping.notions)
    return csv_table(CSV_COLUMNS, (*cloths, *notions))


def _notion_cells(line: NotionLine, units: UnitSystem) -> dict[str, Any]:
    told = notion_words(line, units)
    return {
        "what": "notion",
        "name": told.name,
        "amount": told.amount,
        "count": line.count,
        "length_mm": line.length_mm,
        "details": told.detail,
    }


def _cloth_cells(line: ClothLine) -> dict[str, Any]:
    told, price = cloth_words(line), line.choice.bolt.price
    return {
        "what": "cloth",
        "name": told.name,
        "amount": told.ask,
        "length_mm": line.result.shop_length_mm,
        "details": told.bolt,
        "price": told.price,
        "cost": "" if line.cost is None else str(line.cost),
        "currency": "" if price is None else price.currency,
    }


def shopping_markdown(shopping: ShoppingList, words: Words = ENGLISH) -> str:
    """Return a shopping list as Markdown, with boxes to tick."""
    name = _plain(shopping.request.pattern.name)
    lines = [f"# {name}", "", _plain(garment_words(shopping, words)), ""]
    for told in finding_words(shopping, words):
        lines += [f"**{_plain(told)}**", ""]
    lines += _cloth_table(shopping, words)
    lines += _cloth_notes(shopping, words)
    lines += _notion_table(shopping, words)
    lines += ["", f"## {words.say('Before you cut')}", ""]
    lines += [f"- {words.say(told)}" for told in BEFORE_YOU_CUT]
    if shopping.cautions:
        lines += ["", f"## {words.say('Take care')}", ""]
        lines += [f"- {_plain(told)}" for told in shopping.cautions]
    return "\n".join(lines) + "\n"


def _cloth_table(shopping: ShoppingList, words: Words) -> list[str]:
    lines = [
        f"## {words.say('Cloth')}",
        "",
        f"| | {' | '.join(map(words.say, _CLOTH_COLUMNS))} |",
        "|---|---|---|---|---|---|",
    ]
    for line in shopping.cloths:
        told = cloth_words(line, words)
        rest = " | ".join(map(_plain, (told.bolt, told.price, told.cost)))
        lines.append(f"| {_TICK} | {_plain(told.name)} | **{_plain(told.ask)}** | {rest} |")
    if total := total_words(shopping, words):
        lines += ["", f"{words.say('Together:')} {_plain(total)}."]
    return lines


def _cloth_notes(shopping: ShoppingList, words: Words) -> list[str]:
    lines = []
    for line in shopping.cloths:
        told = cloth_words(line, words)
        if told.notes:
            lines += ["", f"### {_plain(told.name)}", ""]
            lines += [f"- {heading}: {_plain(note)}" for heading, note in told.notes]
    return lines


def _notion_table(shopping: ShoppingList, words: Words) -> list[str]:
    lines = ["", f"## {words.say('Notions')}", ""]
    lines += [f"| | {' | '.join(map(words.say, _NOTION_COLUMNS))} |", "|---|---|---|---|"]
    for line in shopping.notions:
        told = notion_words(line, units_of(shopping), words)
        cells = " | ".join(map(_plain, (told.amount, told.name, told.detail)))
        lines.append(f"| {_TICK} | {cells} |")
    return lines


def _plain(text: str) -> str:
    """Return text that stays in its line and its cell, and keeps its letters."""
    return re.sub(r"([\\|<>`\[\]_*])", r"\\\1", " ".join(text.split()))
