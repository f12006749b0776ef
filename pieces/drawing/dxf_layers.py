"""What the layers of a DXF drawing mean: numbered layers in two dialects, and layers with names.

The numbers are those of section 4.3 of ASTM D6673 as far as public lists give them. Programs
differ, so a reader says which list it assumed.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from pieces.drawing.labels import Role, read_label
from pieces.errors import DrawingError

_COMMON = {
    "1": Role.OUTLINE,
    "2": Role.IGNORE,  # turn points of other layers
    "3": Role.IGNORE,  # curve points of other layers
    "4": Role.NOTCH,
    "5": Role.IGNORE,  # grade reference
    "6": Role.FOLD,
    "7": Role.GRAIN,
    "11": Role.LINE,
    "14": Role.SEW,
    "15": Role.IGNORE,  # annotation
    **dict.fromkeys(("80", "81", "82", "83"), Role.NOTCH),
    **dict.fromkeys(("84", "85", "86", "87"), Role.IGNORE),  # curves for validation
}
DIALECTS: Mapping[str, Mapping[str, Role]] = MappingProxyType(
    {
        "standard": {
            **_COMMON,
            "8": Role.LINE,
            "9": Role.IGNORE,  # stripe reference
            "10": Role.IGNORE,  # plaid reference
            "13": Role.DRILL,
        },
        "shifted": {
            **_COMMON,
            "8": Role.IGNORE,  # stripe reference
            "9": Role.IGNORE,  # plaid reference
            "10": Role.LINE,
            "12": Role.DRILL,
            "13": Role.IGNORE,  # annotation
        },
    }
)


def guess_dialect(layers: Iterable[tuple[str, str]]) -> str:
    """Return the dialect that kinds of entities and their layers speak for.

    Parameters
    ----------
    layers
        Pairs of a kind of entity such as ``"POINT"`` and the layer it is on.

    Examples
    --------
    Points on layer 12, where the standard has nothing, are drill holes of the other list:

    >>> guess_dialect([("POLYLINE", "1"), ("POINT", "12")])
    'shifted'
    """
    seen = set(layers)
    texts_on_13 = ("TEXT", "13") in seen or ("MTEXT", "13") in seen
    points_on_12, points_on_13 = (("POINT", layer) in seen for layer in ("12", "13"))
    return "shifted" if (points_on_12 or texts_on_13) and not points_on_13 else "standard"


def layer_role(layer: str, dialect: str, own: Mapping[str, Role]) -> Role | None:
    """Return the part that lines on a layer play, or None if nothing says so.

    Parameters
    ----------
    layer
        Name or number; leading zeros do not count.
    dialect
        One of :data:`DIALECTS`.
    own
        What a mapping file says of layers; it comes first.

    Raises
    ------
    DrawingError
        If there is no such dialect.
    """
    if dialect not in DIALECTS:
        raise DrawingError(f'dialect "{dialect[:40]}" is not known; give {" or ".join(DIALECTS)}')
    if layer in own:
        return own[layer]
    number = layer.strip().lstrip("0") if layer.strip().isdigit() else layer
    return DIALECTS[dialect].get(number) or read_label(layer).role
