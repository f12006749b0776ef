"""The pattern sheet of the smock shirt: what to cut of which cloth, and what to buy."""

from demo import smock_draft as draft
from demo.assembly import CAUTIONS, cut, drafted_piece, matching, pairs
from demo.drafting import SEAM_MM
from demo.measurements import BODIES, SIZES
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Piece


def pattern() -> Pattern:
    """Return the whole smock shirt pattern."""
    pieces = (*_body_pieces(), *_sleeve_pieces(), *_small_pieces())
    return Pattern(
        name="Smock shirt of the village stage",
        sizes=SIZES,
        pieces=pieces,
        matching=matching(pieces),
        views=_views(),
        cloths=_cloths(),
        notions=_notions(),
        cautions=CAUTIONS,
        seam_allowance_mm=SEAM_MM,
        note=(
            "Invented demo pattern. The seam allowance of 15 mm is drawn in, 25 mm at the hem of "
            "the body and of the short sleeve, and 10 mm at the sides and foot of the placket."
        ),
    )


def _body_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.front,
            name="front",
            title="Front",
            cuts=(cut("shell", 1),),
            note="Do not cut the neck slit before the placket is sewn round it.",
        ),
        drafted_piece(
            BODIES,
            draft.back,
            name="back",
            title="Back",
            cuts=(cut("shell", 1),),
            note="The top edge is wider than the yoke: gather it between the notches.",
        ),
        drafted_piece(
            BODIES,
            draft.yoke,
            name="yoke",
            title="Yoke",
            cuts=(cut("shell", 2),),
            note="One yoke outside and one inside; the strip above the shoulder line is the front.",
        ),
    )


def _sleeve_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.sleeve,
            name="sleeve",
            title="Long sleeve",
            cuts=(pairs("shell", 2),),
            note="One notch marks the front of the head and two mark the back.",
        ),
        drafted_piece(
            BODIES,
            draft.short_sleeve,
            name="short_sleeve",
            title="Short sleeve",
            cuts=(pairs("shell", 2),),
            note="The hem allowance is 25 mm, turned twice.",
        ),
        drafted_piece(
            BODIES,
            draft.gusset,
            name="gusset",
            title="Underarm gusset",
            cuts=(cut("shell", 2),),
            note="The same square in every size: two sides go to the body, two to the sleeve.",
        ),
        drafted_piece(
            BODIES,
            draft.cuff,
            name="cuff",
            title="Cuff",
            cuts=(cut("shell", 2), cut("interfacing", 2)),
            note="Each cuff is one piece folded along its middle.",
        ),
    )


def _small_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.collar,
            name="collar",
            title="Collar",
            cuts=(cut("shell", 2), cut("interfacing", 1)),
            note="The straight short edge on the fold is centre back.",
        ),
        drafted_piece(
            BODIES,
            draft.placket,
            name="placket",
            title="Neck placket",
            cuts=(cut("shell", 1), cut("interfacing", 1)),
            note="Trim its neck edge to the neckline after sewing.",
        ),
    )


def _views() -> tuple[View, ...]:
    body = ("front", "back", "yoke", "collar", "placket", "gusset")
    return (
        View("A", (*body, "sleeve", "cuff"), "Long full sleeves gathered into cuffs."),
        View("B", (*body, "short_sleeve"), "Short sleeves with a plain hem, and no cuffs."),
    )


def _cloths() -> tuple[ClothNeed, ...]:
    return (
        ClothNeed(
            "shell",
            "Soft cloth that gathers well and can be washed after every show.",
            ("cotton lawn", "washed linen", "calico", "brushed cotton"),
            ask_for="Calico or washed linen: both hold a gather and are easy to cut straight.",
            hang=(
                "A slippery cloth makes soft, deep folds and creeps under the needle; a stiff one "
                "gathers into a bulky frill at the yoke."
            ),
        ),
        ClothNeed(
            "interfacing",
            "A light stiffening for collar, cuffs and placket.",
            ("light woven interfacing",),
            ask_for=(
                "Light weight, woven and fusible: collar and cuffs should stay soft, and the iron "
                "fixes it without a stitch."
            ),
            hang="None at all lets the collar curl; a heavy one makes it stand up like a ruff.",
        ),
    )


def _notions() -> tuple[Notion, ...]:
    one, two = dict.fromkeys(SIZES, 1), dict.fromkeys(SIZES, 2)
    button, across_mm = NotionKind.BUTTON, 11.0
    return (
        Notion(
            name="collar button", detail="for the neck", counts=one, kind=button, size_mm=across_mm
        ),
        Notion(name="cuff button", views=("A",), counts=two, kind=button, size_mm=across_mm),
        Notion(name="thread", detail="all-purpose thread to match", kind=NotionKind.THREAD),
    )
