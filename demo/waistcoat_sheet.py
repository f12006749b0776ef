"""The pattern sheet of the waistcoat: what to cut of which cloth, and what to buy."""

from demo import waistcoat_draft as draft
from demo.assembly import CAUTIONS, cut, drafted_piece, matching, pairs
from demo.drafting import SEAM_MM
from demo.measurements import BODIES, SIZES
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Piece


def pattern() -> Pattern:
    """Return the whole waistcoat pattern."""
    pieces = (*_outer_pieces(), *_inner_pieces(), *_small_pieces())
    return Pattern(
        name="Waistcoat of the village stage",
        sizes=SIZES,
        pieces=pieces,
        matching=matching(pieces),
        views=_views(),
        cloths=_cloths(),
        notions=_notions(),
        cautions=CAUTIONS,
        seam_allowance_mm=SEAM_MM,
        note=(
            "Invented demo pattern. The seam allowance of 15 mm is drawn in, 10 mm on the belt. "
            "Shell and lining are sewn together along the hem, so the hem has a seam allowance "
            "and is not turned up."
        ),
    )


def _outer_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.front,
            name="front",
            title="Front",
            cuts=(pairs("shell", 2),),
            note="Try the pocket height on the wearer before you cut the pocket mouth.",
        ),
        drafted_piece(
            BODIES,
            draft.back,
            name="back",
            title="Back, view A",
            cuts=(cut("shell", 1),),
            note="The back shoulder is 5 mm longer than the front's: ease it in.",
        ),
        drafted_piece(
            BODIES,
            draft.belted_back,
            name="belted_back",
            title="Back, view B",
            cuts=(cut("lining", 1),),
            note="Catch the raw ends of the belt in the two darts.",
        ),
    )


def _inner_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.front_facing,
            name="front_facing",
            title="Front facing",
            cuts=(pairs("shell", 2), pairs("interfacing", 2)),
        ),
        drafted_piece(
            BODIES,
            draft.neck_facing,
            name="neck_facing",
            title="Back neck facing",
            cuts=(cut("shell", 1), cut("interfacing", 1)),
        ),
        drafted_piece(
            BODIES,
            draft.front_lining,
            name="front_lining",
            title="Front lining",
            cuts=(pairs("lining", 2),),
        ),
        drafted_piece(
            BODIES,
            draft.back_lining,
            name="back_lining",
            title="Back lining",
            cuts=(cut("lining", 1),),
        ),
    )


def _small_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.welt,
            name="welt",
            title="Pocket welt",
            cuts=(pairs("shell", 2), pairs("interfacing", 2)),
            note="On plaid, cut the welts last and lay each on its front to match.",
        ),
        drafted_piece(
            BODIES,
            draft.belt,
            name="belt",
            title="Back belt",
            cuts=(pairs("lining", 4),),
            note="Sew two and two together; the seam allowance is 10 mm here.",
        ),
    )


def _views() -> tuple[View, ...]:
    shared = ("front", "front_facing", "neck_facing", "welt", "front_lining", "back_lining")
    return (
        View("A", ("front", "back", *shared[1:]), "Back of the same cloth as the fronts."),
        View(
            "B",
            ("front", "belted_back", *shared[1:], "belt"),
            "Back of lining cloth, drawn in by a buckled belt.",
        ),
    )


def _cloths() -> tuple[ClothNeed, ...]:
    return (
        ClothNeed(
            "shell",
            "The outside that the audience sees; with corduroy every piece points the same way.",
            ("corduroy", "wool flannel", "tweed", "furnishing cotton"),
            ask_for="Wool flannel, if it is your first: it presses well and forgives a seam.",
            hang=(
                "A slippery cloth sags between the buttons; a very stiff one stands off the waist."
            ),
        ),
        ClothNeed(
            "lining",
            "Smooth cloth inside; in view B it is the outside of the back as well.",
            ("viscose twill", "cotton sateen", "smooth cotton lawn"),
            ask_for="Cotton sateen, since it slides over a shirt and still lies still for cutting.",
            hang="A slippery lining frays and shifts while you cut; a stiff one rubs and bulges.",
        ),
        ClothNeed(
            "interfacing",
            "Stiffens front edge, neck and welts so that buttons and pockets do not sag.",
            ("medium woven interfacing", "hair canvas for a firm front"),
            ask_for=(
                "Medium weight, woven and fusible: it holds buttonholes and needs only an iron; "
                "take hair canvas, sewn in, where heat would flatten a pile."
            ),
            hang="A light one lets the front edge ripple; a heavy one makes it stand like card.",
        ),
    )


def _notions() -> tuple[Notion, ...]:
    buttons = {size: draft.button_count(body) for size, body in BODIES.items()}
    one = dict.fromkeys(SIZES, 1)
    return (
        Notion(
            name="button",
            detail="flat, with two or four holes",
            counts=buttons,
            kind=NotionKind.BUTTON,
            size_mm=15.0,
        ),
        Notion(name="belt buckle", detail="for a 25 mm strap", views=("B",), counts=one),
        Notion(name="thread", detail="all-purpose thread to match", kind=NotionKind.THREAD),
    )
