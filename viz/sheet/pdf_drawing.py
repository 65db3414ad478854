"""A drawing of the sheet on a PDF page, by the same strokes and roles as the SVG."""

from __future__ import annotations

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from viz.look.palette import PRINT
from viz.page.drawing import Circle, Drawing, Path, Text
from viz.page.looks import LOOKS, PLAIN, TEXT_SIZE


def colour(name: str, opacity: float = 1.0) -> Color:
    """A colour of the palette for paper, by its name."""
    solid = HexColor(PRINT.named[name])
    return solid if opacity == 1.0 else Color(solid.red, solid.green, solid.blue, alpha=opacity)


class OnPaper(Flowable):  # type: ignore[misc]
    """A drawing as a flowable of fixed size."""

    def __init__(self, drawing: Drawing, font: str, bold: str) -> None:
        super().__init__()
        self.drawing, self.font, self.bold = drawing, font, bold
        self.width, self.height = drawing.width * mm, drawing.height * mm

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
        canvas.setStrokeColor(colour(look.stroke or "ink"))
        canvas.setFillColor(colour(look.fill or "plate", look.opacity))
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
        canvas.setFillColor(colour("ink"))
        canvas.setFont(self.bold if text.role == "state" else self.font, TEXT_SIZE)
        y = text.y - 0.36 * TEXT_SIZE
        draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        draw[text.anchor](text.x, y, text.text)
