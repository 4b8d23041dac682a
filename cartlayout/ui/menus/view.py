"""What is looked at, and how: zoom, panels, units, colours."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ...documents.theme import DARK, LIGHT
from ...units import UnitSystem
from ..entries import Choice, Choices, Entry, Listed
from ..session import OVERLAYS, Session
from ..toolbar import OVERLAY_TIPS

if TYPE_CHECKING:
    from ..main_window import MainWindow


def fit(window: "MainWindow") -> None:
    """Show the whole plan."""
    window.plan.fit()


def zoom_in(window: "MainWindow") -> None:
    """Come nearer."""
    window.plan.zoom_in()


def zoom_out(window: "MainWindow") -> None:
    """Go further off."""
    window.plan.zoom_out()


def levels(window: "MainWindow") -> tuple[Choice, ...]:
    """The levels of the cart."""
    return tuple(
        Choice(level.name.capitalize(), level.name) for level in window.session.build.cart.levels
    )


def _to_level(window: "MainWindow", level: object) -> None:
    window.session.set_level(str(level))


def cases(window: "MainWindow") -> tuple[Choice, ...]:
    """What can be on and open together, as the row under the menus lists it."""
    box = window.tools.cases
    return tuple(Choice(box.itemText(at), box.itemData(at)) for at in range(box.count()))


def _to_case(window: "MainWindow", case: object) -> None:
    window.session.set_case(str(case))


_OVERLAY_TEXT = {
    "power": "&Power",
    "water": "&Water",
    "drain": "&Drain",
    "clearance": "&Clearance",
    "weight": "W&eight",
}


def _overlay(name: str, tip: str) -> Entry:
    """The switch of one overlay."""

    def toggle(window: "MainWindow") -> None:
        window.session.set_overlay(name, name not in window.session.overlays)

    def is_on(session: Session) -> bool:
        return name in session.overlays

    return Entry(
        f"view.overlay-{name}",
        _OVERLAY_TEXT[name],
        toggle,
        "View/S&how on Plan",
        2,
        tip=tip,
        words="overlay layer hide",
        checked=is_on,
        looks_only=True,
    )


def _part(name: str, text: str, key: str, words: str) -> Entry:
    """The switch of one part of the window."""

    def toggle(window: "MainWindow") -> None:
        window.arrangement.toggle(name)

    def is_on(window: "MainWindow") -> bool:
        return window.arrangement.shows(name)

    plain_name = text.replace("&", "").lower()
    return Entry(
        f"view.{name}",
        text,
        toggle,
        "View",
        4,
        (key,),
        f"Show or hide the {plain_name}",
        f"panel part hide {words}",
        on_now=is_on,
        looks_only=True,
    )


def plan_alone(window: "MainWindow") -> None:
    """Hide everything around the plan, or bring it back."""
    window.arrangement.toggle_plan_alone()


def full_screen(window: "MainWindow") -> None:
    """Fill the screen, or go back to a window."""
    window.setWindowState(window.windowState() ^ Qt.WindowState.WindowFullScreen)


def next_part(window: "MainWindow") -> None:
    """Give the keyboard to the next part of the window."""
    window.walk_parts(1)


def previous_part(window: "MainWindow") -> None:
    """Give the keyboard to the part before."""
    window.walk_parts(-1)


def usual_arrangement(window: "MainWindow") -> None:
    """Put every part back in its place."""
    window.arrangement.usual()


def _plan_is_alone(window: "MainWindow") -> bool:
    return window.arrangement.plan_alone


def _is_full(window: "MainWindow") -> bool:
    return window.isFullScreen()


def us_units(window: "MainWindow") -> None:
    """Show US units."""
    window.remembered.units_always(UnitSystem.US)


def metric_units(window: "MainWindow") -> None:
    """Show metric units."""
    window.remembered.units_always(UnitSystem.METRIC)


def build_units(window: "MainWindow") -> None:
    """Show each build in the units it is written in."""
    window.remembered.units_of_build()


def light(window: "MainWindow") -> None:
    """Use light colours, whatever the system does."""
    window.colours.choose(LIGHT)


def dark(window: "MainWindow") -> None:
    """Use dark colours, whatever the system does."""
    window.colours.choose(DARK)


def system_colours(window: "MainWindow") -> None:
    """Follow the system's choice of light or dark."""
    window.colours.follow_system()


def _is_us(window: "MainWindow") -> bool:
    return window.remembered.units == UnitSystem.US.value


def _is_metric(window: "MainWindow") -> bool:
    return window.remembered.units == UnitSystem.METRIC.value


def _follows_build(window: "MainWindow") -> bool:
    return window.remembered.follows_build


def _light_chosen(window: "MainWindow") -> bool:
    return not window.colours.follows_system and window.session.theme is LIGHT


def _dark_chosen(window: "MainWindow") -> bool:
    return not window.colours.follows_system and window.session.theme is DARK


def _system_chosen(window: "MainWindow") -> bool:
    return window.colours.follows_system


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "view.fit",
        "&Whole Plan",
        fit,
        "View",
        0,
        ("Ctrl+0",),
        "Show the whole plan",
        "zoom fit all",
        "fit",
        looks_only=True,
    ),
    Entry(
        "view.zoom-in",
        "Zoom &In",
        zoom_in,
        "View",
        0,
        ("Ctrl++", "Ctrl+="),
        "Come nearer",
        "larger bigger closer",
        looks_only=True,
    ),
    Entry(
        "view.zoom-out",
        "Zoom &Out",
        zoom_out,
        "View",
        0,
        ("Ctrl+-",),
        "Go further off",
        "smaller away",
        looks_only=True,
    ),
    Choices(
        "view.levels",
        "Le&vel",
        levels,
        _to_level,
        "View",
        2,
        "Work on another level of the cart",
        "Work on level",
    ),
    *(_overlay(name, OVERLAY_TIPS[name]) for name in OVERLAYS),
    Choices(
        "view.cases",
        "Runnin&g",
        cases,
        _to_case,
        "View",
        2,
        "Look at what is on and open together",
        "Look at",
    ),
    _part("stock", "&Stock", "Ctrl+1", "equipment catalogue items list left"),
    _part("details", "&Details", "Ctrl+2", "properties fields right"),
    _part("circuits", "&Circuits", "Ctrl+3", "amps power board"),
    _part("taps", "&Taps", "Ctrl+4", "pressure water flow board"),
    _part("findings", "&Findings", "Ctrl+5", "problems errors verdict board"),
    _part("boards", "&Boards", "Ctrl+6", "circuits taps findings bottom row"),
    Entry(
        "view.plan-alone",
        "&Plan Alone",
        plan_alone,
        "View",
        4,
        ("F9",),
        "Hide everything around the plan; again, bring it back",
        "panels hide all larger",
        on_now=_plan_is_alone,
        looks_only=True,
    ),
    Entry(
        "view.full-screen",
        "Full Scr&een",
        full_screen,
        "View",
        4,
        ("F11",),
        "Fill the screen, or go back to a window",
        "maximise large",
        on_now=_is_full,
        at_start=True,
        looks_only=True,
    ),
    Entry(
        "view.next-part",
        "&Next Part of the Window",
        next_part,
        "View",
        4,
        ("F6",),
        "Give the keyboard to the next part: stock, plan, details, boards",
        "focus keyboard panel",
        looks_only=True,
    ),
    Entry(
        "view.previous-part",
        "Pa&rt Before",
        previous_part,
        "View",
        4,
        ("Shift+F6",),
        "Give the keyboard to the part before",
        "focus keyboard panel previous",
        looks_only=True,
    ),
    Entry(
        "view.usual",
        "Usual &Arrangement",
        usual_arrangement,
        "View",
        4,
        tip="Put every part back in its place",
        words="reset layout panels sizes",
        looks_only=True,
    ),
    Entry(
        "view.us-units",
        "&US Units (in, psi, gal)",
        us_units,
        "View/&Units",
        5,
        tip="Show US units",
        words="inches psi gallons imperial customary",
        on_now=_is_us,
        looks_only=True,
    ),
    Entry(
        "view.metric-units",
        "&Metric Units (mm, bar, L)",
        metric_units,
        "View/&Units",
        5,
        tip="Show metric units",
        words="millimetres bar litres SI",
        on_now=_is_metric,
        looks_only=True,
    ),
    Entry(
        "view.build-units",
        "Units of Each &Build",
        build_units,
        "View/&Units",
        5,
        tip="Show each build in the units it is written in",
        words="automatic original",
        on_now=_follows_build,
        looks_only=True,
    ),
    Entry(
        "view.light",
        "&Light Colours",
        light,
        "View/Co&lours",
        6,
        tip="Use light colours",
        words="theme bright white day",
        on_now=_light_chosen,
        at_start=True,
        looks_only=True,
    ),
    Entry(
        "view.dark",
        "&Dark Colours",
        dark,
        "View/Co&lours",
        6,
        tip="Use dark colours",
        words="theme black night",
        on_now=_dark_chosen,
        at_start=True,
        looks_only=True,
    ),
    Entry(
        "view.system-colours",
        "Colours of the &System",
        system_colours,
        "View/Co&lours",
        6,
        tip="Follow the system's choice",
        words="theme automatic",
        on_now=_system_chosen,
        at_start=True,
        looks_only=True,
    ),
)
