"""OpenCV, loaded only when a photograph is read: it comes with the extra ``photo``."""

from importlib.util import find_spec
from typing import Any

from pieces.errors import PhotoError

INSTALL = 'pip install "cloth-nesting[photo]"'
"""What a person types to have it."""


def opencv() -> Any:
    """Return the module ``cv2``.

    Raises
    ------
    PhotoError
        If it is not installed.
    """
    try:
        import cv2  # noqa: PLC0415 - an extra, and slow to load
    except ImportError as error:
        raise PhotoError(f"photographs need OpenCV; install it with: {INSTALL}") from error
    return cv2


def has_opencv() -> bool:
    """Tell whether it is installed, without loading it."""
    return find_spec("cv2") is not None
