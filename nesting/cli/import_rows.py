"""What was read from a drawing or written to one, as rows for machines and people."""

from dataclasses import asdict
from typing import Any

from pieces.drawing.drawing import Drawing
from pieces.outline.polygon import area_mm2, bounds_mm
from pieces.pattern import Pattern
from pieces.photo.accuracy import Accuracy


def pattern_row(pattern: Pattern, notes: tuple[str, ...]) -> dict[str, Any]:
    """Return a pattern in short: its names, each piece in each size, and what was assumed."""
    rows = []
    for piece in pattern.pieces:
        cuts = {cut.cloth: {"count": cut.count, "pair": cut.pair} for cut in piece.cuts}
        for size, shape in piece.shapes.items():
            left, low, right, high = bounds_mm(shape.outline_mm)
            rows.append(
                {
                    "piece": piece.name,
                    "title": piece.title,
                    "size": size,
                    "wide_mm": round(right - left, 3),
                    "tall_mm": round(high - low, 3),
                    "area_mm2": round(area_mm2(shape.outline_mm), 1),
                    "grain": piece.grain.value,
                    "on_fold": shape.fold_edge_mm is not None,
                    "cut": cuts,
                    "notches": len(shape.notches),
                    "match_points": len(shape.match_points),
                    "drill_holes": len(shape.drill_holes),
                    "internal_lines": len(shape.internal_lines),
                }
            )
    return {
        "pattern": pattern.name,
        "sizes": list(pattern.sizes),
        "views": [view.name for view in pattern.views],
        "pieces": rows,
        "notes": list(notes),
    }


def drawing_row(drawing: Drawing) -> dict[str, Any]:
    """Return what a drawing holds, in short."""
    return {
        "shapes": [{"piece": one.name, "size": one.size} for one in drawing.shapes],
        "facts": dict(drawing.facts),
    }


def accuracy_row(accuracy: Accuracy) -> dict[str, float | None]:
    """Return how far photographs can be trusted."""
    figures = asdict(accuracy).items()
    return {name: None if value is None else round(value, 3) for name, value in figures}
