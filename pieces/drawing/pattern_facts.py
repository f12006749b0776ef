"""A pattern as a drawing: what of it is drawn, and what is written beside."""

from decimal import Decimal

from pieces.drawing.drawing import Drawing, DrawnShape, Fact, listed
from pieces.grainline import Grain
from pieces.pattern import Pattern
from pieces.piece import Cut, Piece


def drawing_of(pattern: Pattern, *, sizes: tuple[str, ...] = ()) -> Drawing:
    """Return every piece in every size, with what a reader needs to make the pattern again.

    Notions, cautions and the words about cloths and views have no place in a drawing.

    Parameters
    ----------
    pattern
        Any pattern.
    sizes
        The sizes to draw; all if empty.
    """
    chosen = sizes or pattern.sizes
    shapes = tuple(
        DrawnShape(
            name=piece.name,
            size=size,
            shape=shape,
            facts=_piece_facts(pattern, piece),
            has_arrow=piece.grain is not Grain.BIAS,
        )
        for piece in pattern.pieces
        for size, shape in piece.shapes.items()
        if size in chosen
    )
    return Drawing(shapes=shapes, facts=_pattern_facts(pattern, chosen))


def cut_words(cuts: tuple[Cut, ...]) -> str:
    """Return how many to cut of each cloth, as ``2 shell pair; 1 lining``."""
    return listed(f"{cut.count} {cut.cloth}{' pair' if cut.pair else ''}" for cut in cuts)


def _piece_facts(pattern: Pattern, piece: Piece) -> tuple[Fact, ...]:
    views = [view.name for view in pattern.views if piece.name in view.pieces]
    facts = [
        ("title", piece.title),
        ("cut", cut_words(piece.cuts)),
        ("grain", piece.grain.value),
        ("one way", "true" if piece.one_way else ""),
        ("note", piece.note),
        ("views", listed(views)),
    ]
    return tuple(fact for fact in facts if fact[1])


def _pattern_facts(pattern: Pattern, sizes: tuple[str, ...]) -> tuple[Fact, ...]:
    seam = pattern.seam_allowance_mm
    ways = [f"{way.value} {name}" for name, way in pattern.matching.items()]
    facts = [
        ("style name", pattern.name),
        ("sizes", listed(size for size in pattern.sizes if size in sizes)),
        ("views", listed(view.name for view in pattern.views)),
        ("cloths", listed(cloth.name for cloth in pattern.cloths)),
        ("seam allowance", "" if seam is None else f"{Decimal(repr(seam)):f} mm"),
        ("matching", listed(ways)),
        ("note", pattern.note),
    ]
    return tuple(fact for fact in facts if fact[1])
