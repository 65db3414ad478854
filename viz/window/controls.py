"""The window's sliders, buttons, keys and the words beside them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from kinematics.figures.kart import HANDWHEEL
from viz.canvas.text import text_over
from viz.look.palette import Theme
from viz.words import numbers

if TYPE_CHECKING:
    from viz.window.window import Viewer

STORIES = ("rock", "rock_right")
"""Views that tell something, which have keys and no buttons."""
VIEWS = ("overview", "front", "side", "top", "kingpin", "contact", "rear")
LARGEST_SIZE_DEG = 6.0
SLIDERS = (
    ("top_size", "top bush size", LARGEST_SIZE_DEG, 0.535),
    ("top_clock", "top bush clock", 360.0, 0.46),
    ("bottom_size", "bottom bush size", LARGEST_SIZE_DEG, 0.385),
    ("bottom_clock", "bottom bush clock", 360.0, 0.31),
)
KEYS = (
    "space  play, pause\n"
    "left, right  one lock step\n"
    "1 to 7  views\n"
    "8, 9  why the inside rear lifts\n"
    "c  next load case\n"
    "minus, plus  exaggerate less, more\n"
    "f  front end alone, whole kart\n"
    "b  keep this setting as B\n"
    "v  hide, show B\n"
    "g  see-through wheels\n"
    "h  hide words\n"
    "t  light, dark\n"
    "q  close"
)
BUTTON = 24
"""Side of a button in pixels."""
COLUMNS = (0.8, 0.9)
"""Left edges of the buttons' columns in shares of the window."""
CLOSING = ("q", "e")
"""Keys that VTK itself answers by closing."""


class Controls:
    """The widgets of a viewer, and what they show."""

    def __init__(self, viewer: Viewer) -> None:
        self.viewer, self._live = viewer, False
        self.sliders: dict[str, Any] = {}
        self.buttons: dict[str, Any] = {}
        self._words: list[tuple[Any, str]] = []
        self.message = self._word("", (0.27, 0.215), "axis", 17)
        self._word(KEYS, (0.8, 0.012), "", 13)
        self._add_sliders()
        self._add_buttons()
        self._add_keys()
        self._live = True

    def show_lock(self, degrees: float) -> None:
        """Put the lock slider where the scene stands."""
        self._show("lock", degrees, f"handwheel {numbers.told(HANDWHEEL, degrees)} (+ left)")

    def show_bushes(self, bushes: Mapping[str, float]) -> None:
        """Put the bush sliders where the setting is, sizes and clocks in degrees."""
        for key, title, _, _ in SLIDERS:
            self._show(key, bushes[key], f"{title} {numbers.number(bushes[key], 1)}°")

    def _show(self, key: str, value: float, title: str) -> None:
        look = self.sliders[key].GetRepresentation()
        look.SetValue(value)
        look.SetTitleText(title)

    def show_playing(self, playing: bool) -> None:
        """Put the play button where the play is."""
        self.buttons["play"].GetRepresentation().SetState(int(playing))

    def show_message(self, message: str) -> None:
        """Say one line above the lock slider; an empty one clears it."""
        self.message.SetInput(message)

    def set_theme(self, theme: Theme) -> None:
        """Give words and sliders the theme's ink."""
        from viz.canvas.text import dress, unit_rgb

        for actor, role in self._words:
            dress(actor.GetTextProperty(), theme, role)
        for slider in self.sliders.values():
            _dress_slider(slider, unit_rgb(theme.ink), unit_rgb(theme.strong))

    def _word(self, text: str, place: tuple[float, float], role: str, size: int) -> Any:
        actor = text_over(self.viewer.handle.theme, role, size)
        actor.SetInput(text)
        actor.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
        actor.GetPositionCoordinate().SetValue(*place)
        self.viewer.plotter.add_actor(actor, reset_camera=False, render=False)
        self._words.append((actor, role))
        return actor

    def _add_sliders(self) -> None:
        viewer, angles = self.viewer, self.viewer.handle.data.handwheel_deg
        span = (float(angles[0]), float(angles[-1]))
        self._slider("lock", viewer.set_handwheel, span, "handwheel", (0.29, 0.71), 0.175)
        for key, title, most, height in SLIDERS:
            self._slider(key, _setter(viewer, key), (0.0, most), title, (0.02, 0.2), height)
        self.show_bushes(viewer.bushes)
        self.show_lock(float(angles[viewer.index]))
        self.set_theme(viewer.handle.theme)

    def _slider(
        self,
        key: str,
        call: Callable[[float], None],
        span: tuple[float, float],
        title: str,
        ends: tuple[float, float],
        height: float,
    ) -> None:
        def moved(value: float) -> None:
            if self._live:  # a slider also reports its first value, when there is nothing to do yet
                call(value)

        self.sliders[key] = self.viewer.plotter.add_slider_widget(
            moved,
            rng=span,
            value=0.5 * (span[0] + span[1]),
            title=title,
            pointa=(ends[0], height),
            pointb=(ends[1], height),
            interaction_event="always",
            title_height=0.02,
            slider_width=0.025,
            tube_width=0.005,
        )
        look = self.sliders[key].GetRepresentation()
        look.ShowSliderLabelOff()
        look.SetEndCapLength(0.005)
        look.SetEndCapWidth(0.02)
        look.SetSliderLength(0.02)

    def _add_buttons(self) -> None:
        viewer, (width, height) = self.viewer, self.viewer.plotter.window_size
        theme = viewer.handle.theme
        made = [("play", "play", lambda _: viewer.play())]
        made += [(v, f"{i + 1}  {v}", _looker(viewer, v)) for i, v in enumerate(VIEWS)]
        made += [
            ("case", "load case", lambda _: viewer.next_case()),
            ("larger", "larger", lambda _: viewer.exaggerate(1)),
            ("front_only", "front end", lambda _: viewer.toggle_front()),
            ("smaller", "smaller", lambda _: viewer.exaggerate(-1)),
        ]
        for number, (key, label, call) in enumerate(made):
            left = COLUMNS[number % 2] * width
            place = (left, height * 0.545 - (number // 2) * (BUTTON + 8.0))
            self.buttons[key] = self.viewer.plotter.add_checkbox_button_widget(
                call,
                value=False,
                position=place,
                size=BUTTON,
                border_size=3,
                color_on=theme.strong if key == "play" else theme.rule,
                color_off=theme.rule,
            )
            self._word(label, ((left + BUTTON + 6.0) / width, (place[1] + 4.0) / height), "", 14)

    def _add_keys(self) -> None:
        viewer, add = self.viewer, self.viewer.plotter.add_key_event
        viewer.plotter.iren.clear_key_event_callbacks()
        _still_vtk_keys(viewer.plotter.iren.interactor)
        add("q", viewer.plotter._prep_for_close)
        add("space", viewer.play)
        add("Left", lambda: viewer.step(-1))
        add("Right", lambda: viewer.step(1))
        for i, view in enumerate((*VIEWS, *STORIES)):
            add(str(i + 1), _presser(viewer, view))
        add("c", viewer.next_case)
        for key, by in (("plus", 1), ("equal", 1), ("minus", -1)):
            add(key, _exaggerator(viewer, by))
        add("f", viewer.toggle_front)
        add("b", viewer.keep)
        add("v", viewer.toggle_second)
        add("g", viewer.toggle_ghost)
        add("h", viewer.toggle_words)
        add("t", viewer.toggle_theme)


def add_controls(viewer: Viewer) -> Controls:
    """Put the controls on a viewer's plotter."""
    return Controls(viewer)


def _setter(viewer: Viewer, key: str) -> Callable[[float], None]:
    return lambda degrees: viewer.set_bush(key, float(degrees))


def _exaggerator(viewer: Viewer, by: int) -> Callable[[], None]:
    return lambda: viewer.exaggerate(by)


def _still_vtk_keys(interactor: Any) -> None:
    """Keep VTK's own keys (3 is red-green stereo, w wires, f a flight) from a window that has other uses."""

    def judge(caller: Any, _: str) -> None:
        if caller.GetKeyCode() not in CLOSING:
            caller.GetCommand(tag).AbortFlagOn()

    tag = interactor.AddObserver("CharEvent", judge, 10.0)


def _presser(viewer: Viewer, view: str) -> Callable[[], None]:
    return lambda: viewer.look(view)


def _looker(viewer: Viewer, view: str) -> Callable[[bool], None]:
    return lambda _: viewer.look(view)


def _dress_slider(slider: Any, ink: tuple[float, float, float], knob: tuple[float, float, float]) -> None:
    look = slider.GetRepresentation()
    for prop in (
        look.GetTitleProperty(),
        look.GetLabelProperty(),
        look.GetTubeProperty(),
        look.GetCapProperty(),
    ):
        prop.SetColor(*ink)
    look.GetSliderProperty().SetColor(*knob)
