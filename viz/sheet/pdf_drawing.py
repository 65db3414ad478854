"""A drawing of the sheet on a PDF page, by the same strokes and roles as the SVG."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor, black, white
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from viz.page.drawing import HEIGHT, WIDTH, Circle, Drawing, Path, Text


@dataclass(frozen=True)
class Look:
    """How a role is drawn; widths and dashes in mm of paper."""

    width: float = 0.3
    stroke: Color | None = black
    fill: Color | None = None
    dash: tuple[float, float] | None = None


GHOST = HexColor("#444444")
LOOKS = {
    "seat": Look(fill=HexColor("#eeeeee")),
    "bush": Look(fill=HexColor("#dddddd")),
    "centre": Look(0.2, HexColor("#555555")),
    "after_hole": Look(0.6, fill=Color(1, 1, 1, alpha=0.75)),
    "before_hole": Look(0.45, GHOST, dash=(1.2, 0.8)),
    "after_mark": Look(fill=black),
    "before_mark": Look(0.35, GHOST, dash=(0.9, 0.5)),
    "turn": Look(0.7),
    "turn_head": Look(stroke=None, fill=black),
    "compass_head": Look(stroke=None, fill=black),
}
PLAIN = Look()
TEXT_SIZE = 2.7  # mm


class DrawnBush(Flowable):  # type: ignore[misc]
    """A bush drawing as a flowable of fixed size."""

    WIDTH, HEIGHT = WIDTH * mm, HEIGHT * mm

    def __init__(self, drawing: Drawing, font: str, bold: str) -> None:
        super().__init__()
        self.drawing, self.font, self.bold = drawing, font, bold
        self.width, self.height = self.WIDTH, self.HEIGHT

    def draw(self) -> None:
        """Draw every stroke, the origin in the middle and millimetres as the unit."""
        canvas = self.canv
        canvas.saveState()
        canvas.translate(0.5 * self.width, 0.5 * self.height)
        canvas.scale(mm, mm)
        for stroke in self.drawing.strokes:
            if isinstance(stroke, Text):
                self._text(stroke)
            else:
                self._shape(stroke)
        canvas.restoreState()

    def _shape(self, stroke: Circle | Path) -> None:
        look, canvas = LOOKS.get(stroke.role, PLAIN), self.canv
        canvas.setLineWidth(look.width)
        canvas.setDash(list(look.dash) if look.dash else [])
        canvas.setStrokeColor(look.stroke or black)
        canvas.setFillColor(look.fill or white)
        draw = {"stroke": int(look.stroke is not None), "fill": int(look.fill is not None)}
        if isinstance(stroke, Circle):
            canvas.circle(stroke.x, stroke.y, stroke.r, **draw)
            return
        path = canvas.beginPath()
        path.moveTo(*stroke.points[0])
        for point in stroke.points[1:]:
            path.lineTo(*point)
        if stroke.closed:
            path.close()
        canvas.drawPath(path, **draw)

    def _text(self, text: Text) -> None:
        canvas = self.canv
        canvas.setFillColor(black)
        canvas.setFont(self.bold if text.role == "state" else self.font, TEXT_SIZE)
        y = text.y - 0.36 * TEXT_SIZE
        draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        draw[text.anchor](text.x, y, text.text)
