"""The cloth with its pieces, in the frame of the cloth: what single and compared pictures share."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from nesting.checks.laid_pieces import laid_on
from nesting.cloth.spread import HALVED_ALONG
from nesting.draw.cloth_acts import STUB, cloth_group, lines_group
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.design_acts import Design, design_of, flaws_group
from nesting.draw.labels import fit_label, fit_number, words_of_all
from nesting.draw.piece_acts import DrawnPiece, match_letters, piece_group
from nesting.draw.scene import Act, Area, Group
from nesting.draw.style import SOFT_INK, Look, fills
from nesting.draw.words import top_words
from nesting.languages import Words
from nesting.marker.cut_list import placed_shape
from nesting.marker.hands import same_hand
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement, lying_shape
from pieces.piece import PieceShape


@dataclass(frozen=True)
class Body:
    """The cloth, the pieces on it and the lines over it.

    Parameters
    ----------
    acts
        In the frame of :class:`~nesting.draw.cloth_frame.ClothFrame`.
    layers
        Names of the groups that occur.
    numbers
        For each kind of piece too small for words, the number written instead.
    letters
        For each match point name, its letter.
    doubts
        Pieces of which all copies are of the same hand, in words.
    """

    acts: tuple[Act, ...]
    layers: frozenset[str]
    numbers: Mapping[str, str]
    letters: Mapping[str, str]
    doubts: tuple[str, ...] = ()


def right_edge_mm(frame: ClothFrame, look: Look) -> float:
    """Return how far right of the cut end the picture of the cloth reaches, mm."""
    return frame.cut_mm + STUB * look.unit_mm


def marker_body(
    frame: ClothFrame,
    look: Look,
    *,
    is_plain: bool = False,
    numbers: Mapping[str, str] = MappingProxyType({}),
) -> Body:
    """Return the cloth with every piece of the marker to scale.

    Parameters
    ----------
    frame, look
        The cloth, and sizes of words and lines.
    is_plain
        True to leave out notches, drill holes, match points and internal lines.
    numbers
        Numbers given already to kinds of small pieces, as by another marker of the same picture.
    """
    letters = match_letters(item.shape for item in frame.marker.items)
    design = design_of(frame)
    known = dict(numbers)
    marker = frame.marker
    colours = fills(item.title for item in marker.items)
    groups = []
    for placement, words in zip(marker.placements, words_of_all(marker, look.words), strict=True):
        stretch = marker.stretches[placement.stretch]
        shape = lying_shape(marker.item_by_key[placement.item], placement, stretch.spread)
        shape = _lifted(shape, frame.lift_mm(stretch))
        if is_plain:
            shape = _without_marks(shape)
        label = fit_label(words, shape, look)
        if label is None:
            number = known.setdefault(words.kind, str(len(known) + 1))
            label = fit_number(number, shape, look)
        drawn = DrawnPiece(
            shape,
            f"{words.sentence}, {top_words(shape.grainline.angle_deg, look.words)}",
            colours[words.title],
            placement.flipped,
            label,
            letters,
            _meets(design, placement),
        )
        groups.append(piece_group(drawn, look))
    flaws = flaws_group(frame, look)
    acts = (
        cloth_group(frame, look, design),
        *under_layer(frame, look),
        Group("pieces", tuple(groups)),
        *(() if flaws is None else (flaws,)),
        lines_group(frame, look),
    )
    return Body(acts, frozenset(_names(acts)), known, letters, _doubts(marker, look.words))


def _doubts(marker: Marker, words: Words) -> tuple[str, ...]:
    return tuple(
        words.say(
            "{piece}: {count} of the same hand; a pair?",
            piece=f"{item.title} {item.size}",
            count=item.count,
        )
        for item in same_hand(marker.items)
    )


def under_layer(frame: ClothFrame, look: Look) -> tuple[Group, ...]:
    """Return what is cut from the second half of cloth that is halved along, dashed."""
    outlines = [
        Area(layer.on_cloth(one.shape.outline_mm), pen=look.pen(0.05, SOFT_INK, (0.3, 0.2)))
        for one in laid_on(frame.marker)
        if one.spread in HALVED_ALONG
        for layer in one.layers[1:]
    ]
    return (Group("under layer", tuple(outlines)),) if outlines else ()


def _meets(design: Design, placement: Placement) -> dict[str, bool]:
    """Return for each matched point of a placement whether it agrees with the others."""
    return {
        name: meets
        for (item, garment, name), meets in design.meets.items()
        if (item, garment) == (placement.item, placement.garment)
    }


def _without_marks(shape: PieceShape) -> PieceShape:
    return replace(shape, notches=(), match_points=(), drill_holes=(), internal_lines=())


def _lifted(shape: PieceShape, dy_mm: float) -> PieceShape:
    return placed_shape(shape, turn_deg=0.0, flipped=False, x=0.0, y=dy_mm)


def _names(acts: tuple[Act, ...]) -> set[str]:
    names: set[str] = set()
    for act in acts:
        if isinstance(act, Group):
            names |= {act.name} | _names(act.acts)
    return names
