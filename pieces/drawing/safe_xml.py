"""XML from strangers: no entities, nothing fetched, bounded depth and number of elements."""

from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from defusedxml.common import DefusedXmlException, DTDForbidden, EntitiesForbidden
from defusedxml.ElementTree import DefusedXMLParser

from pieces.drawing.limits import DEEPEST, MOST_ELEMENTS
from pieces.errors import DrawingError


class _BoundedBuilder(TreeBuilder):
    """Builds the tree, and gives up where it grows beyond the limits."""

    def __init__(self) -> None:
        super().__init__()
        self._depth = 0
        self._count = 0

    def start(self, tag: str, attrs: dict[str, str]) -> Element:
        self._depth += 1
        self._count += 1
        if self._depth > DEEPEST:
            raise DrawingError(
                f"groups in the drawing are nested more than {DEEPEST} deep; ungroup some"
            )
        if self._count > MOST_ELEMENTS:
            raise DrawingError(
                f"the drawing has more than {MOST_ELEMENTS:,} elements; keep only the pieces"
            )
        return super().start(tag, attrs)

    def end(self, tag: str) -> Element:
        self._depth -= 1
        return super().end(tag)


def parse_xml(data: bytes) -> Element:
    """Return the root of an XML document.

    Parameters
    ----------
    data
        The whole file. A document type that names an outside file is passed over, not fetched.

    Raises
    ------
    DrawingError
        If it is no XML, declares entities, or is nested or branched beyond the limits.
    """
    parser = DefusedXMLParser(target=_BoundedBuilder(), forbid_entities=True, forbid_external=True)
    try:
        parser.feed(data)
        root: Element = parser.close()
    except EntitiesForbidden as error:
        raise DrawingError(
            "the drawing declares entities of its own, which can blow up or fetch files; save it "
            "as plain SVG"
        ) from error
    except DTDForbidden as error:
        raise DrawingError("the drawing holds a document type of its own; take it out") from error
    except DefusedXmlException as error:
        raise DrawingError(
            "the drawing asks for a file outside it, and nothing is fetched; save it as plain SVG"
        ) from error
    except ParseError as error:
        line, column = error.position
        raise DrawingError(
            f"line {line}, column {column + 1} is not valid XML; save the drawing anew as SVG"
        ) from error
    except (ValueError, LookupError) as error:  # an encoding nobody knows, numbers out of range
        if isinstance(error, DrawingError):
            raise
        raise DrawingError(f"the drawing cannot be read as XML: {error}") from error
    return root
