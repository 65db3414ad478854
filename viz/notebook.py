"""Show scenes, curves, tables and pages in a notebook, as content that lives in the notebook itself.

Everything is a picture or a text in the cell's output: no server, no widget, so that it is still there when
the notebook is exported, mailed, or opened without a connection.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import numpy as np

from kinematics.frames import Array
from scenarios import Scenario
from scenarios.ask.asked import check_named
from viz.look.palette import LIGHT
from viz.look.rule import side_colour, stroke
from viz.scene.words import lock
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.width import WIDE

if TYPE_CHECKING:
    from matplotlib.figure import Figure


_PAD = "padding:2px 10px"


@dataclass(frozen=True)
class Shown:
    """The output of a cell: text, and HTML or a PNG picture where there is one."""

    text: str
    html: str = ""
    png: bytes = b""

    def _repr_mimebundle_(self, **_: object) -> dict[str, str]:
        """What IPython asks an object for (its display protocol)."""
        bundle = {"text/plain": self.text}
        if self.html:
            bundle["text/html"] = self.html
        if self.png:
            bundle["image/png"] = base64.b64encode(self.png).decode()
        return bundle


def show(
    scenario: Scenario,
    *settings: str,
    stops: int = 5,
    size: tuple[int, int] = (480, 272),
    view: str = "overview",
) -> Shown:
    """The scene of each setting at `stops` lock positions from left to right lock, a row of pictures each.

    view is one of the scene's cameras, size a picture's in pixels. Raises Refusal for an unknown
    setting, and as viz.canvas.strips does.
    """
    first, last, _ = scenario.handwheel_deg
    angles = np.linspace(first, last, stops)
    rows = [_row(name, angles, _strip(scenario, name, angles, size, view)) for name in settings]
    text = f"{', '.join(settings)}: {stops} lock positions, seen from '{view}'"
    return Shown(text, "".join(rows))


def show_straight(
    scenario: Scenario, *settings: str, size: tuple[int, int] = (320, 320), view: str = "bushes_left"
) -> Shown:
    """The scene of each setting straight ahead, beside each other; by default its left bushes from above."""
    ahead = np.zeros(1)
    cells = [_cell(name, _strip(scenario, name, ahead, size, view)[0], name) for name in settings]
    return Shown(f"{', '.join(settings)}: straight ahead, seen from '{view}'", _abreast(cells))


def _row(name: str, angles: Array, strip: Sequence[str | None]) -> str:
    pairs = zip(strip, angles.tolist(), strict=True)
    cells = [_cell(f"{name}, {lock(angle)}", source, lock(angle)) for source, angle in pairs]
    return f"<p><b>{escape(name)}</b></p>{_abreast(cells[::-1])}"


def _strip(
    scenario: Scenario, name: str, angles: Array, size: tuple[int, int], view: str
) -> Sequence[str | None]:
    """Pictures of a setting, its frame held still, at handwheel angles (N,) in deg; None where it binds."""
    from kinematics.lock import sweep
    from viz.canvas.strips import Film, strips
    from viz.scene import scene

    check_named(scenario, name)
    swept = sweep(scenario.kart, scenario.settings[name], np.radians(angles))
    film = Film(scene.build(swept, name), swept.reach)
    return strips({name: film}, size, view, themes=(LIGHT,))[LIGHT.name][name]


def _abreast(cells: Sequence[str]) -> str:
    return f'<div style="display:flex;flex-wrap:wrap;gap:6px">{"".join(cells)}</div>'


def _cell(alt: str, source: str | None, said: str) -> str:
    inside = f'<img src="{source}" alt="{escape(alt)}" style="width:100%">' if source else "a tie rod binds"
    style = "margin:0;flex:1 1 140px;max-width:480px"
    return f'<figure style="{style}">{inside}<figcaption>{escape(said)}</figcaption></figure>'


def framed(page: str, title: str, height: int = 900) -> Shown:
    """An HTML page, such as viz.handout.page makes, in a frame of its own, `height` pixels high."""
    frame = (
        f'<iframe title="{escape(title)}" sandbox="allow-scripts" srcdoc="{escape(page)}" loading="eager" '
        f'style="width:100%;height:{height}px;border:1px solid {LIGHT.rule}"></iframe>'
    )
    return Shown(title, frame)


def curves(
    across: Array,
    up: Mapping[str, Array],
    label_across: str,
    label_up: str,
    title: str,
    mark_zero: bool = False,
    side: str = "",
) -> Shown:
    """Curves over one axis as a picture, told apart by stroke and marker; a NaN breaks one.

    side, 'left' or 'right', gives them that side's colour.
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(7.2, 3.7), dpi=90, layout="constrained")
    FigureCanvasAgg(figure)
    _draw(figure, np.asarray(across, float), up, side, mark_zero)
    axes = figure.axes[0]
    axes.set_xlabel(label_across)
    axes.set_ylabel(label_up)
    axes.set_title(title, fontsize=11)
    return picture(figure, f"{title}: {', '.join(up)}")


def _draw(figure: Figure, across: Array, up: Mapping[str, Array], side: str, mark_zero: bool) -> None:
    from viz.plots.lock import line_style

    axes = figure.subplots()
    for i, (name, values) in enumerate(up.items()):
        axes.plot(
            across,
            values,
            color=side_colour(LIGHT, side),
            linestyle=line_style(stroke(i)),
            marker=stroke(i).marker,
            markevery=max(1, len(across) // 8),
            markersize=5,
            label=name,
        )
    axes.grid(True, color=LIGHT.fine, linewidth=0.8)
    if mark_zero:
        axes.axhline(0.0, color=LIGHT.ink, linewidth=0.8)
    axes.legend(frameon=False, fontsize=9)


def picture(figure: Figure, text: str) -> Shown:
    """A Matplotlib figure as a picture; text says what it shows."""
    from viz.plots.lock import figure_bytes

    return Shown(text, png=_lighter(figure_bytes(figure, "png")))


def _lighter(png: bytes) -> bytes:
    """The same picture in a palette of 64 colours: a quarter of the bytes, and lines stay lines."""
    from PIL import Image

    content = io.BytesIO()
    with Image.open(io.BytesIO(png)) as full:
        few = full.convert("RGB").quantize(64, dither=Image.Dither.NONE)
        few.save(content, format="PNG", optimize=True)
    return content.getvalue()


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Shown:
    """A table of printed numbers: the first column is named, the others stand to the right."""
    columns = [GridColumn((cell,), text=i == 0) for i, cell in enumerate(head)]
    top = "".join(f'<th scope="col" style="{_PAD}">{escape(cell)}</th>' for cell in head)
    body = "".join(f"<tr>{_cells(row)}</tr>" for row in rows)
    html = f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"
    return Shown("\n".join(layout(Grid(columns, rows), WIDE)), html)


def _cells(row: Sequence[str]) -> str:
    first, *rest = (escape(cell) for cell in row)
    numbers = "".join(f'<td style="{_PAD};text-align:right">{cell}</td>' for cell in rest)
    return f'<th scope="row" style="{_PAD};text-align:left">{first}</th>{numbers}'
