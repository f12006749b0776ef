"""The picture of one piece as its pattern has it, to be compared with the paper."""

from nesting.draw.labels import PieceWords, fit_label
from nesting.draw.piece_acts import DrawnPiece, piece_group
from nesting.draw.scene import Scene, moved
from nesting.draw.style import PAPER, Look, fills
from nesting.languages import ENGLISH, Words
from pieces.piece import Piece

_MARGIN = 1.0
_TYPE = 0.04
"""Type size over the longer side of the piece: it is looked at small."""


def piece_scene(
    piece: Piece, size: str, *, marks: tuple[str, ...], words: Words = ENGLISH
) -> Scene:
    """Return a piece in one size, 1 mm of the piece being 1 mm of the scene.

    Parameters
    ----------
    piece, size
        Which piece.
    marks
        Words to write on it besides its title and size, at least one: how many to cut, and so on.
    words
        Of the language it is written in.

    Raises
    ------
    UnknownNameError
        If the piece has no such size.
    """
    shape = piece.shape(size)
    low, high = shape.outline_mm.min(axis=0), shape.outline_mm.max(axis=0)
    wide, tall = (float(side) for side in high - low)
    look = Look(max(wide, tall) * _TYPE, words)
    told_words = PieceWords(piece.title, size, marks[0], marks[1:])
    names = dict.fromkeys(mark.name for mark in shape.match_points)
    drawn = DrawnPiece(
        shape,
        told_words.sentence,
        fills((piece.title,))[piece.title],
        turned_over=False,
        label=fit_label(told_words, shape, look),
        letters={name: name[:1].lower() for name in names},
    )
    margin = _MARGIN * look.unit_mm
    told = ", ".join((f"{piece.title} {size}", *marks))
    return Scene(
        width_mm=wide + 2.0 * margin,
        height_mm=tall + 2.0 * margin,
        acts=(moved(piece_group(drawn, look), margin - float(low[0]), margin - float(low[1])),),
        title=told,
        description=words.say(
            "{title}, grainline at {degrees} degrees, {facts}",
            title=piece.title,
            degrees=f"{shape.grainline.angle_deg:.0f}",
            facts=", ".join(marks),
        ),
        paper=PAPER,
    )
