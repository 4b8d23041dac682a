"""What is looked at, and how: zoom, panels, units, colours."""

from typing import TYPE_CHECKING

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


def _overlay(name: str, tip: str) -> Entry:
    """The switch of one overlay."""

    def toggle(window: "MainWindow") -> None:
        window.session.set_overlay(name, name not in window.session.overlays)

    def is_on(session: Session) -> bool:
        return name in session.overlays

    return Entry(
        f"view.overlay-{name}",
        name.capitalize(),
        toggle,
        "View/Show on Plan",
        2,
        tip=tip,
        words="overlay layer hide",
        checked=is_on,
        looks_only=True,
    )


def toggle_stock(window: "MainWindow") -> None:
    """Show or hide the stock."""
    window.show_panel("stock", not window.panel_shown("stock"))


def toggle_details(window: "MainWindow") -> None:
    """Show or hide the details."""
    window.show_panel("details", not window.panel_shown("details"))


def usual_arrangement(window: "MainWindow") -> None:
    """Put every part back in its place."""
    window.usual_arrangement()


def _stock_shown(window: "MainWindow") -> bool:
    return window.panel_shown("stock")


def _details_shown(window: "MainWindow") -> bool:
    return window.panel_shown("details")


def us_units(window: "MainWindow") -> None:
    """Show US units."""
    window.session.set_system(UnitSystem.US)


def metric_units(window: "MainWindow") -> None:
    """Show metric units."""
    window.session.set_system(UnitSystem.METRIC)


def light(window: "MainWindow") -> None:
    """Use light colours, whatever the system does."""
    window.colours.choose(LIGHT)


def dark(window: "MainWindow") -> None:
    """Use dark colours, whatever the system does."""
    window.colours.choose(DARK)


def system_colours(window: "MainWindow") -> None:
    """Follow the system's choice of light or dark."""
    window.colours.follow_system()


def _is_us(session: Session) -> bool:
    return session.system is UnitSystem.US


def _is_metric(session: Session) -> bool:
    return session.system is UnitSystem.METRIC


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
        "R&unning",
        cases,
        _to_case,
        "View",
        2,
        "Look at what is on and open together",
        "Look at",
    ),
    Entry(
        "view.stock",
        "&Stock",
        toggle_stock,
        "View",
        4,
        ("Ctrl+1",),
        "Show or hide the stock",
        "panel equipment",
        on_now=_stock_shown,
        looks_only=True,
    ),
    Entry(
        "view.details",
        "&Details",
        toggle_details,
        "View",
        4,
        ("Ctrl+2",),
        "Show or hide the details",
        "panel properties",
        on_now=_details_shown,
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
        "US &Units (in, psi, gal)",
        us_units,
        "View",
        5,
        tip="Show US units",
        words="inches psi gallons imperial customary",
        checked=_is_us,
        looks_only=True,
    ),
    Entry(
        "view.metric-units",
        "&Metric Units (mm, bar, L)",
        metric_units,
        "View",
        5,
        tip="Show metric units",
        words="millimetres bar litres SI",
        checked=_is_metric,
        looks_only=True,
    ),
    Entry(
        "view.light",
        "&Light Colours",
        light,
        "View",
        6,
        tip="Use light colours",
        words="theme bright white day",
        on_now=_light_chosen,
        looks_only=True,
    ),
    Entry(
        "view.dark",
        "Da&rk Colours",
        dark,
        "View",
        6,
        tip="Use dark colours",
        words="theme black night",
        on_now=_dark_chosen,
        looks_only=True,
    ),
    Entry(
        "view.system-colours",
        "Colours of the S&ystem",
        system_colours,
        "View",
        6,
        tip="Follow the system's choice",
        words="theme automatic",
        on_now=_system_chosen,
        looks_only=True,
    ),
)
