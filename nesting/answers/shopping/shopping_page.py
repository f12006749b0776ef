"""A shopping list as one page to print: what to buy, with boxes to tick and small markers.

The page is A4 where the list is told in metres, and letter where it is told in yards. Type and
pictures shrink together until all fits on one page.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from nesting.answers.shopping.shopping import ClothLine, ShoppingList
from nesting.answers.shopping.shopping_words import (
    BEFORE_YOU_CUT,
    cloth_words,
    finding_words,
    garment_words,
    notion_words,
    total_words,
    units_of,
)
from nesting.draw.scene import Act, Anchor, Area, Group, Lines, Pen, Scene, Text, line, moved
from nesting.draw.style import CUT, INK, RULE, SOFT_INK
from nesting.draw.text_width import wrapped
from nesting.draw.thumbnail import thumbnail, thumbnail_size_mm
from nesting.errors import DrawError
from nesting.languages import ENGLISH, Words
from pieces.measures.format import format_length
from pieces.measures.paper_sizes import PAPER_SIZES_MM
from pieces.measures.units import UnitSystem
from pieces.measures.widths import format_width

_MARGIN_MM = 13.0
_UNITS_MM = (3.4, 3.2, 3.0, 2.8, 2.6, 2.4, 2.2, 2.0, 1.85)
_PICTURES = ((20.0, 0.45), (16.0, 0.45), (12.0, 0.4), (9.0, 0.36))
"""Height of a picture in type sizes, and its share of the width, from best to least."""
_LINE = 1.35
_NAME_MM = 1.7


def shopping_scene(shopping: ShoppingList, words: Words = ENGLISH) -> Scene:
    """Return a shopping list as a page, 1 mm of the scene being 1 mm of paper.

    Raises
    ------
    DrawError
        If the list is too long for one page in type that can be read.
    """
    metric = units_of(shopping) is UnitSystem.METRIC
    width, height = PAPER_SIZES_MM["a4" if metric else "letter"]
    room_mm = height - 2.0 * _MARGIN_MM
    for unit_mm in _UNITS_MM:
        for high, share in _PICTURES:
            page = _Page(
                shopping, width - 2.0 * _MARGIN_MM, unit_mm, (high * unit_mm, share), words
            )
            if -page.column(with_pictures=False).y_mm > room_mm:
                continue
            column = page.column()
            if -column.y_mm <= room_mm:
                acts = tuple(moved(act, _MARGIN_MM, height - _MARGIN_MM) for act in column.acts)
                name = shopping.request.pattern.name
                return Scene(
                    width,
                    height,
                    acts,
                    title=f"{words.say('Shopping list')}: {name}",
                    description=f"{name}, {garment_words(shopping, words)}",
                )
    raise DrawError(
        "the shopping list is too long for one page in type that can be read; "
        "shop for fewer garments at a time, or write it as Markdown"
    )


@dataclass
class _Column:
    """Lines and pictures set one under another, from y = 0 down."""

    width_mm: float
    unit_mm: float
    acts: list[Act] = field(default_factory=list)
    y_mm: float = 0.0

    def skip(self, units: float) -> None:
        self.y_mm -= units * self.unit_mm

    def words(
        self,
        text: str,
        *,
        size: float = 1.0,
        bold: bool = False,
        colour: str = INK,
        left_mm: float = 0.0,
        right_mm: float = 0.0,
    ) -> None:
        """Set text in as many lines as it needs between two indents."""
        type_mm = size * self.unit_mm
        for words in wrapped(text, self.width_mm - left_mm - right_mm, type_mm, bold=bold):
            self.y_mm -= _LINE * type_mm
            self.acts.append(Text(words, (left_mm, self.y_mm), type_mm, colour, bold=bold))

    def rule(self) -> None:
        self.skip(0.45)
        ends = line((0.0, self.y_mm), (self.width_mm, self.y_mm))
        self.acts.append(Lines((ends,), Pen(RULE, 0.15)))

    def heading(self, text: str) -> None:
        self.skip(0.9)
        self.words(text, size=1.25, bold=True, colour=CUT)
        self.rule()
        self.skip(0.2)

    def tick_box(self, size: float) -> None:
        """Draw a box to tick on the line that comes next."""
        side = 1.05 * self.unit_mm
        base = self.y_mm - _LINE * size * self.unit_mm - 0.12 * side
        corners = [(0.0, base), (side, base), (side, base + side), (0.0, base + side)]
        self.acts.append(Group("tick", (Area(line(*corners), pen=Pen(INK, 0.3)),)))

    def place(self, other: "_Column", left_mm: float, top_mm: float) -> None:
        """Put another column beside what is here, its top at ``top_mm``."""
        self.acts += [moved(act, left_mm, top_mm) for act in other.acts]


@dataclass(frozen=True)
class _Page:
    """The page at one size of type, with pictures of one height in mm and share of its width."""

    shopping: ShoppingList
    width_mm: float
    unit_mm: float
    picture: tuple[float, float]
    spoken: Words = ENGLISH

    def column(self, *, with_pictures: bool = True) -> _Column:
        """Return everything on the page, from y = 0 down.

        Without pictures their room is left empty: a quick way to a least height, since only a
        drawn picture tells how many numbers must be explained below it.
        """
        column = _Column(self.width_mm, self.unit_mm)
        self._head(column)
        column.heading(self.spoken.say("Cloth"))
        for number, cloth in enumerate(self.shopping.cloths):
            if number:
                column.rule()
                column.skip(0.3)
            self._cloth(column, cloth, with_pictures=with_pictures)
        column.heading(self.spoken.say("Notions"))
        self._notions(column)
        self._lists(column)
        return column

    def _head(self, column: _Column) -> None:
        """Set the title at the left and the price of all cloth at the right."""
        unit, total = self.unit_mm, total_words(self.shopping, self.spoken)
        money, _, left_out = total.partition(", ")
        right = _Column(0.34 * self.width_mm if total else 0.0, unit)
        if total:
            for text, size, bold, colour in (
                (self.spoken.say("Cloth in all"), 1.0, False, SOFT_INK),
                (money, 1.8, True, CUT),
                (left_out, 0.85, False, SOFT_INK),
            ):
                for words in wrapped(text, right.width_mm, size * unit, bold=bold):
                    right.skip(_LINE * size)
                    at = (self.width_mm, right.y_mm)
                    right.acts.append(
                        Text(words, at, size * unit, colour, bold=bold, anchor=Anchor.END)
                    )
        left = _Column(self.width_mm - right.width_mm - (unit if total else 0.0), unit)
        left.words(self.spoken.say("Shopping list"), colour=SOFT_INK)
        left.words(self.shopping.request.pattern.name, size=1.8, bold=True)
        left.words(garment_words(self.shopping, self.spoken), size=1.15)
        for sentence in finding_words(self.shopping, self.spoken):
            left.words(sentence, bold=True, colour=CUT)
        column.place(left, 0.0, 0.0)
        column.place(right, 0.0, 0.0)
        column.y_mm = min(left.y_mm, right.y_mm)

    def _cloth(self, column: _Column, cloth: ClothLine, *, with_pictures: bool) -> None:
        """Set one cloth: words at the left, its marker at the right."""
        unit, told, top = self.unit_mm, cloth_words(cloth, self.spoken), column.y_mm
        wide_mm = self.picture[1] * self.width_mm
        left = _Column(self.width_mm - wide_mm - 1.5 * unit, unit)
        left.tick_box(1.6)
        left.words(f"{told.name}: {told.ask}", size=1.6, bold=True, left_mm=2.0 * unit)
        left.words(told.bolt, left_mm=2.0 * unit)
        if told.price:
            paid = self.spoken.say("{cost} at {price}", cost=told.cost, price=told.price)
            left.words(paid, bold=True, left_mm=2.0 * unit)
        for heading, words in told.notes:
            left.skip(0.15)
            _labelled(left, heading, words)
        right = _Column(wide_mm, unit)
        right.skip(0.4)
        numbers = self._picture(right, cloth, is_drawn=with_pictures)
        _explain(right, cloth, numbers, self.spoken)
        column.place(left, 0.0, top)
        column.place(right, self.width_mm - wide_mm, top)
        column.y_mm = top + min(left.y_mm, right.y_mm) - 0.3 * unit

    def _picture(self, column: _Column, cloth: ClothLine, *, is_drawn: bool) -> Mapping[str, str]:
        """Draw the marker of one cloth, or leave its room, and return its numbers by name."""
        marker = cloth.result.marker
        if not is_drawn:
            _, height = thumbnail_size_mm(marker, column.width_mm, self.picture[0])
            column.y_mm -= height
            return {}
        small = thumbnail(marker, column.width_mm, self.picture[0], type_mm=_NAME_MM)
        column.y_mm -= small.height_mm
        drawn = tuple(moved(act, 0.0, column.y_mm) for act in small.acts)
        column.acts.append(Group("marker", drawn, title=cloth.need.name))
        return small.numbers

    def _notions(self, column: _Column) -> None:
        """Set the notions: a box, how much, what, and its details."""
        unit = self.unit_mm
        units = units_of(self.shopping)
        lines = [notion_words(one, units, self.spoken) for one in self.shopping.notions]
        amounts = [Text(one.amount, (0.0, 0.0), unit, INK, bold=True).width_mm for one in lines]
        left_mm = 3.1 * unit + min(max(amounts, default=0.0), 0.3 * self.width_mm)
        for one in lines:
            column.skip(0.15)
            column.tick_box(1.0)
            amount, what = (_Column(self.width_mm, unit) for _ in range(2))
            right = self.width_mm - left_mm + unit
            amount.words(one.amount, bold=True, left_mm=2.0 * unit, right_mm=right)
            name = f"{one.name}: {one.detail}" if one.detail else one.name
            what.words(name, left_mm=left_mm)
            column.place(amount, 0.0, column.y_mm)
            column.place(what, 0.0, column.y_mm)
            column.y_mm += min(amount.y_mm, what.y_mm)

    def _lists(self, column: _Column) -> None:
        """Set what to mind before cutting at the left, and the cautions at the right."""
        cautions = self.shopping.cautions
        gap_mm = 2.0 * self.unit_mm
        wide_mm = (self.width_mm - gap_mm) / 2.0 if cautions else self.width_mm
        say, unit_mm = self.spoken.say, self.unit_mm
        before = tuple(map(say, BEFORE_YOU_CUT))
        columns = [_listed(say("Before you cut"), before, wide_mm, unit_mm, ticks=True)]
        if cautions:
            columns.append(_listed(say("Take care"), cautions, wide_mm, unit_mm, ticks=False))
        for number, one in enumerate(columns):
            column.place(one, number * (wide_mm + gap_mm), column.y_mm)
        column.y_mm += min(one.y_mm for one in columns)


def _explain(column: _Column, cloth: ClothLine, numbers: Mapping[str, str], words: Words) -> None:
    """Say under a picture what its numbers mean, how wide it is and where it ends."""
    bolt = cloth.choice.bolt
    told = [f"{number} {title}" for title, number in numbers.items()]
    told.append(
        words.say(
            "{width} across, cut at the red line: {length}",
            width=words.figures(format_width(bolt.width_mm, bolt.units)),
            length=words.figures(format_length(cloth.result.shop_length_mm, bolt.units, up=True)),
        )
    )
    column.skip(0.1)
    column.words("; ".join(told), size=0.8, colour=SOFT_INK)


def _labelled(column: _Column, heading: str, words: str) -> None:
    """Set a sentence with its heading at the left of it."""
    unit, top = column.unit_mm, column.y_mm
    column.words(heading, size=0.9, colour=SOFT_INK, left_mm=2.0 * unit)
    column.y_mm = top
    column.words(words, size=0.9, left_mm=7.6 * unit)


def _listed(
    heading: str, sentences: Sequence[str], width_mm: float, unit_mm: float, *, ticks: bool
) -> _Column:
    """Return sentences under a heading, each with a box to tick or a dash before it."""
    column = _Column(width_mm, unit_mm)
    column.heading(heading)
    for sentence in sentences:
        column.skip(0.15)
        if ticks:
            column.tick_box(0.9)
        else:
            dash = Text("-", (0.0, column.y_mm - 0.9 * _LINE * unit_mm), 0.9 * unit_mm, INK)
            column.acts.append(dash)
        column.words(sentence, size=0.9, left_mm=(1.8 if ticks else 1.0) * unit_mm)
    return column
