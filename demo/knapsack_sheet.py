"""The pattern sheet of the knapsack: what to cut of which cloth, and what to buy."""

from dataclasses import replace

from demo import knapsack_draft as draft
from demo.assembly import CAUTIONS, cut, drafted_piece, matching
from demo.drafting import SEAM_MM
from demo.measurements import PACKS
from pieces.grainline import Grain
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Piece
from pieces.shaping.shapes import upright

_BOTH = (cut("shell", 1), cut("lining", 1))


def pattern() -> Pattern:
    """Return the whole knapsack pattern."""
    pieces = (*_body_pieces(), *_front_and_top_pieces(), *_flap_pieces(), *_strap_pieces())
    names = tuple(piece.name for piece in pieces)
    plain = tuple(name for name in names if name not in {"flap", "binding"})
    return Pattern(
        name="Knapsack of the village stage",
        sizes=tuple(PACKS),
        pieces=pieces,
        matching=matching(pieces),
        views=(
            View("A", names, "With a bound flap over the drawn-up mouth."),
            View("B", plain, "Without the flap: a plain duffel that closes with its cord."),
        ),
        cloths=_cloths(),
        notions=_notions(),
        cautions=_cautions(),
        seam_allowance_mm=SEAM_MM,
        note=(
            "Invented demo pattern. The seam allowance of 15 mm is drawn in; the bound edge of "
            "the flap and the binding have none, and the pocket mouth has a hem of 35 mm. The "
            "sizes go by the height of the pack: 30, 35, 40, 45 and 50 cm."
        ),
    )


def _body_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            PACKS,
            draft.front_panel,
            name="front_panel",
            title="Front panel",
            cuts=_BOTH,
            note="Sew the pocket on before the side seams.",
        ),
        drafted_piece(
            PACKS,
            draft.back_panel,
            name="back_panel",
            title="Back panel",
            cuts=_BOTH,
            note="The outer notches at the foot are for the buckle tabs.",
        ),
        drafted_piece(
            PACKS,
            draft.base,
            name="base",
            title="Round base",
            cuts=_BOTH,
            note="The four notches meet the two side seams and the middles of the panels.",
        ),
    )


def _front_and_top_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            PACKS,
            draft.pocket,
            name="pocket",
            title="Front pocket",
            cuts=(cut("shell", 1),),
            note="On checks, cut it last, laid on the front panel.",
        ),
        drafted_piece(
            PACKS,
            draft.casing,
            name="casing",
            title="Casing band",
            cuts=(cut("shell", 2),),
            note="Set the eyelets in one half of the width before you fold it.",
        ),
    )


def _flap_pieces() -> tuple[Piece, ...]:
    flap = drafted_piece(
        PACKS,
        draft.flap,
        name="flap",
        title="Flap",
        cuts=_BOTH,
        note=(
            "Its motif has a top and a bottom, so every flap points the same way; mark the other "
            "half of the press stud on the front when the pack is sewn."
        ),
    )
    binding = drafted_piece(
        PACKS,
        draft.binding,
        name="binding",
        title="Bias binding of the flap",
        cuts=(cut("shell", 2),),
        note="Join the two strips to one; cut on the bias they go round the curve.",
    )
    return replace(flap, one_way=True), on_the_bias(binding)


def on_the_bias(piece: Piece) -> Piece:
    """Return a piece to be cut on the bias: it has no arrow of its own, but lies as it is drawn."""
    shapes = {
        size: replace(shape, grainline=upright(shape.outline_mm))
        for size, shape in piece.shapes.items()
    }
    return replace(piece, grain=Grain.BIAS, shapes=shapes)


def _strap_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            PACKS,
            draft.strap,
            name="strap",
            title="Shoulder strap",
            cuts=(cut("shell", 2),),
            note="Fold it lengthwise, sew the long edge and turn it out, to 40 mm wide.",
        ),
        drafted_piece(
            PACKS,
            draft.tab,
            name="tab",
            title="Buckle tab",
            cuts=(cut("shell", 2),),
            note="The same in every size.",
        ),
    )


def _cloths() -> tuple[ClothNeed, ...]:
    return (
        ClothNeed(
            "shell",
            "Firm cloth that carries weight; a jeans needle and long stitches help.",
            ("cotton canvas", "duck", "heavy twill", "waxed cotton"),
            ask_for="Medium cotton canvas: strong, and a household machine sews four layers.",
            hang=(
                "A soft or slippery cloth sags round the load; a very stiff one stands open and "
                "will not draw up at the mouth."
            ),
        ),
        ClothNeed(
            "lining",
            "Light, smooth and close-woven, so that nothing catches inside.",
            ("cotton poplin", "close-woven lining"),
            ask_for="Cotton poplin, since it is close-woven and stays where you pin it.",
            hang="A slippery lining slides out of its seams under load; a stiff one eats room.",
        ),
    )


def _notions() -> tuple[Notion, ...]:
    sizes = tuple(PACKS)
    return (
        Notion(
            name="cord",
            detail="for the mouth; 5 mm will do",
            lengths_mm={size: pack.cord_mm for size, pack in PACKS.items()},
            kind=NotionKind.CORD,
            size_mm=6.0,
        ),
        Notion(
            name="eyelet",
            detail="10 mm, with washers",
            counts=dict.fromkeys(sizes, draft.EYELETS),
        ),
        Notion(name="strap buckle", detail="for a 40 mm strap", counts=dict.fromkeys(sizes, 2)),
        Notion(
            name="press stud",
            detail="15 mm, to hold the flap down",
            views=("A",),
            counts=dict.fromkeys(sizes, 1),
        ),
        Notion(name="thread", detail="strong thread to match", kind=NotionKind.THREAD),
    )


def _cautions() -> tuple[str, ...]:
    return (
        "Long cords and loose straps can catch and strangle: knot the cord short, and do not give "
        "the pack to small children.",
        "An eyelet punch crushes fingers as easily as cloth: hold the setter, not the eyelet.",
        *CAUTIONS,
    )
