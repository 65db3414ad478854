"""A drawing of the sheet as inline SVG; its looks come from the page's style by class."""

from __future__ import annotations

from html import escape

from viz.sheet.drawing import HEIGHT, WIDTH, Circle, Drawing, Path, Stroke, Text


def svg(drawing: Drawing) -> str:
    """The drawing with its words for those who cannot see it."""
    strokes = "".join(_stroke(s) for s in drawing.strokes)
    box = f"{-WIDTH / 2:g} {-HEIGHT / 2:g} {WIDTH:g} {HEIGHT:g}"
    return f'<svg viewBox="{box}" role="img" aria-label="{escape(drawing.alt)}">{strokes}</svg>'


def _stroke(stroke: Stroke) -> str:
    if isinstance(stroke, Circle):
        return f'<circle class="{stroke.role}" cx="{stroke.x:.3f}" cy="{-stroke.y:.3f}" r="{stroke.r:.3f}"/>'
    if isinstance(stroke, Path):
        points = " ".join(f"{x:.3f},{-y:.3f}" for x, y in stroke.points)
        shape = "polygon" if stroke.closed else "polyline"
        return f'<{shape} class="{stroke.role}" points="{points}"/>'
    return _text(stroke)


def _text(text: Text) -> str:
    place = f'x="{text.x:.3f}" y="{-text.y:.3f}" dy="0.35em" text-anchor="{text.anchor}"'
    return f'<text class="{text.role}" {place}>{escape(text.text)}</text>'
