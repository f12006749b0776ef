"""Whether a marker hangs together: each piece on the cut list and in a stretch, and a length."""

from nesting.errors import MarkerFileError
from nesting.marker.marker import Marker

_WAY_OUT = "nesting check tells all that is wrong with it"


def refuse_broken(marker: Marker) -> None:
    """Refuse a marker of which no picture, table or drawing can be made.

    A marker that is merely wrong, with pieces that overlap for example, can be drawn, so that a
    person may see what is wrong.

    Raises
    ------
    MarkerFileError
        If no piece is laid, one is not on the cut list or lies in no stretch, or the marker has
        no length.
    """
    if not marker.placements:
        raise MarkerFileError(f"no piece is laid on this marker; {_WAY_OUT}")
    for placement in marker.placements:
        if placement.item not in marker.item_by_key:
            raise MarkerFileError(
                f'a piece called "{placement.item}" is laid that the cut list does not have; '
                f"{_WAY_OUT}"
            )
        if not 0 <= placement.stretch < len(marker.stretches):
            raise MarkerFileError(
                f'"{placement.item}" lies in stretch {placement.stretch}, and the marker has '
                f"{len(marker.stretches)}, counted from 0; {_WAY_OUT}"
            )
    if not marker.length_mm > 0.0:
        raise MarkerFileError(
            f"the marker is {marker.length_mm:g} mm long, and pieces take more; {_WAY_OUT}"
        )
