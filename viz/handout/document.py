"""The body of a hand-out: HTML that works without its script, and the data that the script reads."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from pathlib import Path
from typing import Any

from scenarios.lessons.lesson import said_of
from viz.canvas.strips import SIZE, Strip
from viz.handout import bars, words
from viz.handout.bars import Shares
from viz.handout.bushes import bushes
from viz.handout.charts import charts
from viz.handout.content import DIFFERENCE, SLOTS, Content, Line, lines
from viz.handout.headline import Group, groups
from viz.handout.pictures import VIEW, has_arrows
from viz.page.shell import document, styles
from viz.page.svg import tag
from viz.scene.words import lock
from viz.words import cautions
from viz.words.numbers import short

WWW = Path(__file__).parent / "www"
Strips = Mapping[str, Mapping[str, Strip]]


def html(
    content: Content, strips: Strips, clocks: Strips, size: tuple[int, int] = SIZE, view: str = VIEW
) -> str:
    """The whole page as text, with pictures for every stop of the slider and one clock for each setting.

    view is the one from which the pictures are seen.
    """
    numbers, found = lines(content), bars.shares(content)
    sections = (
        _views(content, strips, found, size, view),
        _controls(content),
        _clocks(content, clocks, size),
        _live(content, numbers),
        _section("Through lock", "charts", _charts(content)),
        _section("Headline figures", "headline", _headline(content)),
        _section("Bushes to fit", "bushes", bushes(content)),
        _section("Before you put a spanner to it", "cautions", _list(cautions.ALL)),
        _section("What the numbers mean", "notes", _list(words.notes(content))),
    )
    footer = tag("footer", tag("p", escape(words.FOOTER)))
    body = f"{_header(content)}<main>{''.join(sections)}</main>{footer}"
    title = f"{words.title(content)}: {content.scenario.title}"
    script = (WWW / "handout.js").read_text(encoding="utf-8")
    return document(
        title, body, styles(WWW / "handout.css"), script, _data(content, numbers, strips, clocks, found)
    )


def _data(
    content: Content, numbers: Sequence[Line], strips: Strips, clocks: Strips, found: Shares
) -> dict[str, Any]:
    first, last, _ = content.scenario.handwheel_deg
    angles = content.lock_deg
    return {
        "start": content.moment.stop,
        "at": [(angle - first) / (last - first) for angle in angles],
        "says": [lock(angle) for angle in angles],
        "numbers": [list(line.printed.values()) for line in numbers],
        "pictures": strips,
        "clocks": clocks,
        "bars": bars.data(found),
    }


def _header(content: Content) -> str:
    names = "".join(
        tag("li", f"<b>{slot}</b> {escape(words.setting(content, slot))}", class_=f"slot {slot.lower()}")
        for slot in content.names
    )
    heading = tag("h1", escape(words.title(content)))
    theme = tag("button", "Dark", type="button", id="theme", hidden="")
    kart = tag("p", escape(content.scenario.title), class_="kart")
    return tag("header", f"<div>{heading}{kart}{tag('ul', names)}</div>{theme}")


def _views(content: Content, strips: Strips, found: Shares, size: tuple[int, int], view: str) -> str:
    start = content.moment.stop
    filled = bars.whole(found)
    views = "".join(
        _view(content, slot, strips["light"][slot][start], size, bars.drawn(found[slot][start], slot, filled))
        for slot in content.names
    )
    noscript = tag("noscript", tag("p", escape(words.NO_SCRIPT)))
    still = tag("p", escape(words.drawn(content, has_arrows(content, view))), class_="note")
    inside = f"<div class='views'>{views}</div>{_lesson(view)}{still}{noscript}"
    return tag("section", inside, aria_label="The kart through lock")


def _lesson(view: str) -> str:
    """What the lesson says of the view, where it says something of every kart."""
    said = said_of(view)
    return tag("p", f"<b>{escape(said[0])}.</b> {escape(said[1])}", class_="lesson") if said else ""


def _clocks(content: Content, clocks: Strips, size: tuple[int, int]) -> str:
    """Why the wheel goes down and up, one picture for each setting that can be joined straight ahead."""
    width, height = size
    figures = []
    for slot, name in content.names.items():
        [source] = clocks["light"][slot]
        if source is not None:
            alt = f"The left stub axle of {name} in the plane in which it turns, which leans with the kingpin"
            picture = (
                f'<img id="clock{slot}" alt="{escape(alt)}" width="{width}" height="{height}" src="{source}">'
            )
            figures.append(tag("figure", picture + tag("figcaption", f"<b>{slot}</b> {escape(name)}")))
    inside = tag("p", escape(words.CLOCK), class_="note") + tag("div", "".join(figures), class_="views")
    return _section("Why a wheel goes down", "why", inside) if figures else ""


def _controls(content: Content) -> str:
    """The slider, which stays in sight while the page is scrolled."""
    start = content.moment.stop
    stops = content.stops["A"].sweep.handwheel.size
    said = escape(lock(content.lock_deg[start]))
    slider = (  # the way the charts run: right lock at their left
        f'<input type="range" id="lock" min="0" max="{stops - 1}" step="1" value="{start}" '
        f'aria-valuetext="{said}" disabled>'
    )
    buttons = "".join(
        tag("button", text, type="button", id=name, aria_label=label, disabled="")
        for name, text, label in (
            ("less", "◀", "A step towards right lock"),
            ("more", "▶", "A step towards left lock"),
        )
    )
    play = tag("button", "Play", type="button", id="play", aria_pressed="false", disabled="")
    told = tag("output", said, for_="lock", id="said")
    label = tag("label", "Lock", for_="lock", class_="quiet")
    return tag("div", f"{label}{told}{slider}<div class='steps'>{buttons}{play}</div>", class_="controls")


def _view(content: Content, slot: str, source: str | None, size: tuple[int, int], bar: str) -> str:
    alt = f"Kart with setting {content.names[slot]} as it stands in the load case {content.case.name}"
    width, height = size
    src = source or "data:,"
    picture = f'<img id="view{slot}" alt="{escape(alt)}" width="{width}" height="{height}" src="{src}">'
    hidden = {} if source is None else {"hidden": ""}
    binds = tag("p", escape(words.BINDS), id=f"binds{slot}", class_="binds", **hidden)
    name = tag("figcaption", f"<b>{slot}</b> {escape(content.names[slot])}")
    return tag("figure", picture + binds + name + bar)


def _live(content: Content, numbers: Sequence[Line]) -> str:
    start = content.moment.stop
    rows = "".join(
        f"<tr>{_name(line.label, line.unit)}{_cells(p[start] for p in line.printed.values())}</tr>"
        for line in numbers
    )
    caption = "At the lock position shown; the wheels with the frame held still, the loads as the kart stands"
    table = _table(caption, _head(content, "Quantity"), f"<tbody>{rows}</tbody>", "live")
    return _section("At this lock position", "now", table)


def _headline(content: Content) -> str:
    first, last, _ = content.scenario.handwheel_deg
    full = short(max(abs(first), abs(last)))
    body = "".join(_group(group, len(content.names)) for group in groups(content))
    caption = f"Full range is {full}° of handwheel; camber of the outside front is relative to the road"
    return _table(caption, _head(content, "Figure"), body, "figures")


def _group(group: Group, slots: int) -> str:
    width = 2 if slots == 1 else 4
    heading = f'<tr><th scope="rowgroup" colspan="{width}">{escape(group.heading)}</th></tr>'
    rows = "".join(f"<tr>{_name(r.label, r.unit)}{_cells(r.printed.values())}</tr>" for r in group.rows)
    return f"<tbody>{heading}{rows}</tbody>"


def _head(content: Content, first: str) -> str:
    names = (*content.names, *((DIFFERENCE,) if len(content.names) == len(SLOTS) else ()))
    cells = "".join(tag("th", escape(name), scope="col") for name in (first, *names))
    return f"<thead><tr>{cells}</tr></thead>"


def _name(label: str, unit: str) -> str:
    return tag("th", f"{escape(label)} {tag('span', escape(unit), class_='unit')}", scope="row")


def _cells(printed: Iterable[str]) -> str:
    return "".join(tag("td", escape(text)) for text in printed)


def _table(caption: str, head: str, body: str, name: str) -> str:
    table = tag("table", f"{tag('caption', escape(caption))}{head}{body}", id=name)
    return tag("div", table, class_="scroll", tabindex="0", role="region", aria_label=caption)


def _charts(content: Content) -> str:
    drawn = "".join(tag("figure", tag("figcaption", escape(c.title)) + c.svg) for c in charts(content))
    key = words.CHART_KEY if len(content.names) == len(SLOTS) else words.CHART_KEY_ALONE
    return tag("p", escape(key), class_="note") + tag("div", drawn, class_="grid-of-charts")


def _section(heading: str, name: str, inside: str) -> str:
    return tag("section", tag("h2", escape(heading), id=name) + inside, aria_labelledby=name)


def _list(texts: Iterable[str]) -> str:
    return tag("ul", "".join(tag("li", escape(text)) for text in texts))
