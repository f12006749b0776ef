"""A pattern: pieces, sizes, views, the cloths and notions it needs, and its cautions."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import TypeVar

from pieces.errors import PatternError, UnknownNameError, cut_short, listed
from pieces.marks import MatchWay
from pieces.measures.units import UnitSystem
from pieces.piece import Piece
from pieces.wearer import ChildWearer

Thing = TypeVar("Thing")


@dataclass(frozen=True)
class View:
    """One version of the garment: a choice of pieces.

    Parameters
    ----------
    name
        What the pattern calls it, such as ``"A"``.
    pieces
        Names of the pieces it uses.
    about
        One sentence for the person choosing.
    """

    name: str
    pieces: tuple[str, ...]
    about: str = ""


@dataclass(frozen=True)
class ClothNeed:
    """A cloth the pattern needs.

    Parameters
    ----------
    name
        Such as ``"shell"``, ``"lining"`` or ``"interfacing"``.
    about
        What it is for, in one sentence.
    suggested
        Kinds of cloth to ask for.
    ask_for
        Which of them a learner should ask for, and why, in one sentence.
    hang
        How a slippery or a stiff cloth would change the garment, in one sentence.
    """

    name: str
    about: str = ""
    suggested: tuple[str, ...] = ()
    ask_for: str = ""
    hang: str = ""


class NotionKind(StrEnum):
    """What a notion is, so that a list can show its size as the trade does."""

    BUTTON = "button"
    ELASTIC = "elastic"
    CORD = "cord"
    RIBBON = "ribbon"
    ZIP = "zip"
    THREAD = "thread"
    OTHER = "other"


@dataclass(frozen=True, kw_only=True)
class Notion:
    """Something bought beside the cloth: buttons by number, elastic or cord by length.

    Thread may have neither number nor length: then it is estimated from the seams.

    Parameters
    ----------
    name
        Such as ``"button"``.
    detail
        Size and kind, for people.
    views
        The views that need it; empty for all.
    counts
        Number for each size name, if it is bought by number.
    lengths_mm
        Length for each size name, mm, if it is bought by length.
    kind
        What it is.
    size_mm
        The size it is sold by, mm, above zero: diameter of a button, width of an elastic or
        ribbon, thickness of a cord, length of a zip; None if it has none.

    Raises
    ------
    PatternError
        If it has both or neither of counts and lengths, one that is not above zero, or a size
        that is not.
    """

    name: str
    detail: str = ""
    views: tuple[str, ...] = ()
    counts: Mapping[str, int] | None = None
    lengths_mm: Mapping[str, float] | None = None
    kind: NotionKind = NotionKind.OTHER
    size_mm: float | None = None

    def __post_init__(self) -> None:
        """Freeze the tables and refuse amounts that cannot be bought."""
        given = (self.counts is not None) + (self.lengths_mm is not None)
        if given == 2 or (given == 0 and self.kind is not NotionKind.THREAD):
            raise PatternError(
                f'notion "{self.name}" needs either a count or a length, one of the two'
            )
        if self.size_mm is not None and not 0 < self.size_mm < float("inf"):
            raise PatternError(
                f'notion "{self.name}": size {self.size_mm} mm is not a number above zero'
            )
        amounts: Mapping[str, int] | Mapping[str, float] = self.counts or self.lengths_mm or {}
        for size, amount in amounts.items():
            if not 0 < amount < float("inf"):
                raise PatternError(
                    f'notion "{self.name}", size {size}: amount {amount} is not above zero'
                )
        for name in ("counts", "lengths_mm"):
            if getattr(self, name) is not None:
                object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))

    def __hash__(self) -> int:
        """Hash by name and detail."""
        return hash((self.name, self.detail))


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """Everything on the pattern sheet.

    Parameters
    ----------
    name
        Title of the pattern.
    sizes
        Size names from smallest to largest.
    pieces
        Every piece, each with a shape for every size.
    views
        At least one.
    cloths
        Every cloth that some piece is cut from.
    notions, cautions, note
        For the shopping list and the person cutting.
    seam_allowance_mm
        Allowance already drawn into the outlines, mm; None if the sheet does not say.
    child
        For whom it is if it is for children; None for adults, or if the sheet does not say.
    matching
        How match points meet on stripes and plaid, by their names; those left out meet along.
    units
        The system in which it was written. The same pattern in other units is no other pattern.

    Raises
    ------
    PatternError
        If names repeat, or a view, piece, cloth, size, notion or match point does not agree with
        the rest.
    """

    name: str
    sizes: tuple[str, ...]
    pieces: tuple[Piece, ...]
    views: tuple[View, ...]
    cloths: tuple[ClothNeed, ...]
    notions: tuple[Notion, ...] = ()
    cautions: tuple[str, ...] = ()
    seam_allowance_mm: float | None = None
    note: str = ""
    child: ChildWearer | None = None
    matching: Mapping[str, MatchWay] = field(default_factory=lambda: MappingProxyType({}))
    units: UnitSystem = field(default=UnitSystem.METRIC, compare=False)

    def __post_init__(self) -> None:
        """Check that every name used is a name declared."""
        object.__setattr__(self, "matching", MappingProxyType(dict(self.matching)))
        self._check_unique()
        self._check_pieces()
        self._check_views()
        self._check_notions()
        self._check_matching()

    def __hash__(self) -> int:
        """Hash by name, sizes and pieces."""
        return hash((self.name, self.sizes, self.pieces))

    def piece(self, name: str) -> Piece:
        """Return the piece called ``name``, or raise :class:`UnknownNameError`."""
        return _pick("piece", name, {piece.name: piece for piece in self.pieces})

    def view(self, name: str) -> View:
        """Return the view called ``name``, or raise :class:`UnknownNameError`."""
        return _pick("view", name, {view.name: view for view in self.views})

    def cloth(self, name: str) -> ClothNeed:
        """Return the cloth called ``name``, or raise :class:`UnknownNameError`."""
        return _pick("cloth", name, {cloth.name: cloth for cloth in self.cloths})

    def size(self, name: str) -> str:
        """Return ``name`` if it is a size of the pattern, or raise :class:`UnknownNameError`."""
        return _pick("size", name, {size: size for size in self.sizes})

    def notions_for(self, view: str) -> tuple[Notion, ...]:
        """Return the notions that one view needs, in the order of the sheet."""
        self.view(view)
        return tuple(one for one in self.notions if not one.views or view in one.views)

    def cloths_for(self, view: str) -> tuple[ClothNeed, ...]:
        """Return the cloths that some piece of one view is cut from, in the order of the sheet."""
        return tuple(cloth for cloth in self.cloths if self.pieces_for(view, cloth.name))

    def pieces_for(self, view: str, cloth: str) -> tuple[Piece, ...]:
        """Return the pieces of one view that are cut from one cloth, in the view's order."""
        self.cloth(cloth)
        chosen = (self.piece(name) for name in self.view(view).pieces)
        return tuple(piece for piece in chosen if piece.cut_for(cloth) is not None)

    def _check_unique(self) -> None:
        kinds: dict[str, list[str]] = {
            "size": list(self.sizes),
            "piece": [piece.name for piece in self.pieces],
            "view": [view.name for view in self.views],
            "cloth": [cloth.name for cloth in self.cloths],
        }
        for kind, names in kinds.items():
            if not names:
                raise PatternError(f'pattern "{self.name}" has no {kind}; it needs at least one')
            twice = {name for name, times in Counter(names).items() if times > 1}
            if twice:
                raise PatternError(f'pattern "{self.name}": {kind} {_quoted(twice)} stands twice')

    def _check_pieces(self) -> None:
        for piece in self.pieces:
            where = f'piece "{piece.name}"'
            _require_same(where, "size", self.sizes, piece.shapes)
            known = {cloth.name for cloth in self.cloths}
            unknown = {cut.cloth for cut in piece.cuts} - known
            if unknown:
                raise PatternError(
                    f"{where} is cut from {_quoted(unknown)}, which the pattern does not list; "
                    f"its cloths are {_quoted(known)}"
                )

    def _check_views(self) -> None:
        known = {piece.name for piece in self.pieces}
        for view in self.views:
            unknown = set(view.pieces) - known
            if unknown:
                raise PatternError(
                    f'view "{view.name}" uses {_quoted(unknown)}, which is no piece of the '
                    f"pattern; its pieces are {_quoted(known)}"
                )
            if not view.pieces:
                raise PatternError(f'view "{view.name}" names no piece; it needs at least one')
            twice = {name for name, times in Counter(view.pieces).items() if times > 1}
            if twice:
                raise PatternError(
                    f'view "{view.name}" names {_quoted(twice)} twice; name each piece once, and '
                    "say in its cut count how many are cut"
                )

    def _check_notions(self) -> None:
        known = {view.name for view in self.views}
        for notion in self.notions:
            where = f'notion "{notion.name}"'
            unknown = set(notion.views) - known
            if unknown:
                raise PatternError(f"{where} is for view {_quoted(unknown)}, which does not exist")
            amounts = notion.counts if notion.counts is not None else notion.lengths_mm
            if amounts is not None:
                _require_same(where, "size", self.sizes, amounts)

    def _check_matching(self) -> None:
        shapes = (shape for piece in self.pieces for shape in piece.shapes.values())
        known = {mark.name for shape in shapes for mark in shape.match_points}
        unknown = set(self.matching) - known
        if unknown:
            have = f"its match points are {_quoted(known)}" if known else "it has no match points"
            raise PatternError(f"matching names {_quoted(unknown)}, which no piece has; {have}")


def _require_same(where: str, kind: str, wanted: Iterable[str], have: Iterable[str]) -> None:
    missing, extra = set(wanted) - set(have), set(have) - set(wanted)
    if missing:
        raise PatternError(f"{where} has no {kind} {_quoted(missing)}; give one for each {kind}")
    if extra:
        raise PatternError(f"{where} has {kind} {_quoted(extra)}, which the pattern does not list")


def _pick(kind: str, name: str, table: Mapping[str, Thing]) -> Thing:
    try:
        return table[name]
    except KeyError:
        raise UnknownNameError(
            f'no {kind} "{cut_short(name)}" in this pattern; it has {_listed(table)}'
        ) from None


def _quoted(names: Iterable[str]) -> str:
    return _listed(sorted(names))


def _listed(names: Iterable[str]) -> str:
    return listed(f'"{cut_short(name)}"' for name in names)
