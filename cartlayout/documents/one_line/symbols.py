"""Symbols of a one-line diagram, simple ones, from memory.

Power: IEC 60617, in the United States ANSI/IEEE 315 where that differs (breaker, receptacle).
Fluids: ISO 14617 (pump, filter, valves, vessels, gauge). Every symbol has its words beside it, so
that nobody has to know one. Millimetres; the line comes in at the left and leaves at the right, at
the height of the middle.
"""

import math
from collections.abc import Callable

from ..plan.picture import Box
from ..sheet.elements import BoxItem, Element, PathItem, RoundItem
from .model import Symbol

_PEN = 0.9
_SIZES: dict[str, tuple[float, float]] = {
    "breaker": (8.0, 4.4),
    "breaker us": (7.0, 5.0),
    "receptacle": (5.0, 5.0),
    "receptacle us": (5.0, 5.0),
    "generator": (8.0, 8.0),
    "battery": (11.0, 6.0),
    "transformer": (9.0, 6.0),
    "mains": (7.0, 6.0),
    "tank": (9.0, 8.0),
    "waste tank": (9.0, 8.0),
    "pump": (8.0, 8.0),
    "accumulator": (6.0, 10.0),
    "filter": (9.0, 9.0),
    "regulator": (7.0, 9.2),
    "check valve": (7.0, 5.0),
    "shut-off": (7.0, 5.0),
    "heater": (8.0, 7.0),
    "tee": (1.6, 1.6),
    "gauge": (6.0, 6.0),
    "basin": (9.0, 5.0),
    "floor drain": (7.0, 6.0),
    "reference in": (7.0, 5.0),
    "reference out": (7.0, 5.0),
}
BOXED = ("panel", "load", "cord", "tap", "bar")
"""Words inside."""


def size(symbol: Symbol) -> tuple[float, float]:
    """Width and height; nothing for what is drawn as a box around its words."""
    return _SIZES.get(symbol, (0.0, 0.0))


def drawn(symbol: Symbol, x: float, y: float) -> tuple[Element, ...]:
    """The symbol about its middle."""
    maker = _DRAWN.get(symbol)
    if maker is None:
        return ()
    width, height = size(symbol)
    return tuple(one.moved(x, y) for one in maker(width / 2, height / 2))


def _line(*points: tuple[float, float], width_pt: float = _PEN) -> PathItem:
    return PathItem(points, width_pt=width_pt)


def _area(*points: tuple[float, float], fill: str = "panel") -> PathItem:
    return PathItem(points, closed=True, fill=fill, width_pt=_PEN)


def _arc(
    radius: float, start: float, end: float, x: float = 0.0, y: float = 0.0, flat: float = 1.0
) -> tuple[tuple[float, float], ...]:
    """Points of an arc; angles in degrees, from the right, upwards."""
    count = max(int(abs(end - start) / 12), 4)
    angles = [math.radians(start + (end - start) * at / count) for at in range(count + 1)]
    return tuple((x + radius * math.cos(one), y - flat * radius * math.sin(one)) for one in angles)


def _circle(radius: float, x: float = 0.0, y: float = 0.0, fill: str = "panel") -> RoundItem:
    return RoundItem(x, y, radius, radius, fill=fill, width_pt=_PEN)


# --- power ----------------------------------------------------------------------------------------


def _breaker(w: float, h: float) -> tuple[Element, ...]:
    """A contact that opens, with the cross of the breaker at its fixed side."""
    return (
        _line((-w, 0.0), (-w + 2.4, 0.0)),
        _line((-w + 2.4, 0.0), (w - 2.2, -h + 0.4), width_pt=1.1),
        _line((w - 2.2, 0.0), (w, 0.0)),
        _line((w - 2.9, -0.7), (w - 1.5, 0.7)),
        _line((w - 2.9, 0.7), (w - 1.5, -0.7)),
    )


def _breaker_us(w: float, h: float) -> tuple[Element, ...]:
    """Two contacts with an arc over the gap."""
    return (
        _line((-w, 0.0), (-w + 1.2, 0.0)),
        _line((w - 1.2, 0.0), (w, 0.0)),
        _circle(0.55, -w + 1.5),
        _circle(0.55, w - 1.5),
        _line(*_arc(w - 1.5, 165, 15, flat=0.95), width_pt=1.1),
    )


def _receptacle(w: float, h: float) -> tuple[Element, ...]:
    """A half round that a plug goes into."""
    return (
        _line((-w, 0.0), (-0.4, 0.0)),
        _line(*_arc(2.2, 90, 270, 1.8)),
        _line((-0.4, -2.2), (-0.4, 2.2)),
    )


def _receptacle_us(w: float, h: float) -> tuple[Element, ...]:
    """A circle with two lines across."""
    return (_circle(w), _line((-0.8, -w), (-0.8, w)), _line((0.8, -w), (0.8, w)))


def _generator(w: float, h: float) -> tuple[Element, ...]:
    """A circle with a G, and the wave under it."""
    wave = tuple((-1.4 + 2.8 * at / 16, 1.7 - 0.55 * math.sin(math.tau * at / 16))
                 for at in range(17))  # fmt: skip
    letter = _arc(1.25, 40, 320, 0.0, -0.7)
    return (
        _circle(w),
        _line(*letter, (letter[-1][0], -0.7), (0.2, -0.7), width_pt=1.0),
        _line(*wave),
    )


def _battery(w: float, h: float) -> tuple[Element, ...]:
    """A cell, and the inverter behind it."""
    return (
        _line((-w, 0.0), (-w + 1.2, 0.0)),
        _line((-w + 1.2, -2.6), (-w + 1.2, 2.6)),
        _line((-w + 2.2, -1.3), (-w + 2.2, 1.3), width_pt=1.8),
        _line((-w + 2.2, 0.0), (-w + 5.0, 0.0)),
        BoxItem(Box(-w + 5.0, -h, 2 * w - 5.0, 2 * h), "panel", "ink", 0.0, _PEN),
        _line((-w + 5.0, h), (w, -h)),
        _line((-w + 5.8, -1.9), (-w + 7.4, -1.9)),
        _line(*((w - 2.6 + 1.8 * at / 8, 1.6 - 0.45 * math.sin(math.tau * at / 8))
                for at in range(9))),
    )  # fmt: skip


def _transformer(w: float, h: float) -> tuple[Element, ...]:
    return (_circle(2.8, -1.7, fill=""), _circle(2.8, 1.7, fill=""))


# --- water ----------------------------------------------------------------------------------------


def _mains(w: float, h: float) -> tuple[Element, ...]:
    """Where the venue's pipe ends."""
    return (_area((-w, -h), (w - 2.6, -h), (w, 0.0), (w - 2.6, h), (-w, h), fill="water_fill"),)


def _vessel(w: float, h: float, fill: str) -> tuple[Element, ...]:
    """Open at the top, with the water in it."""
    return (
        PathItem(((-w, -h * 0.35), (w, -h * 0.35), (w, h), (-w, h)), True, fill, "", 0.3),
        _line((-w, -h), (-w, h), (w, h), (w, -h)),
        _line((-w, -h * 0.35), (w, -h * 0.35), width_pt=0.5),
    )


def _tank(w: float, h: float) -> tuple[Element, ...]:
    return _vessel(w, h, "water_fill")


def _waste_tank(w: float, h: float) -> tuple[Element, ...]:
    return _vessel(w, h, "track")


def _pump(w: float, h: float) -> tuple[Element, ...]:
    """A circle with a triangle that points the way of the water."""
    return (_circle(w), _area((-1.9, -w + 0.55), (w, 0.0), (-1.9, w - 0.55), fill="ink"))


def _accumulator(w: float, h: float) -> tuple[Element, ...]:
    """A capsule with its membrane, above the line."""
    top, bottom = -h, -1.6
    shell = (*_arc(w, 180, 0, 0.0, top + w), *_arc(w, 0, -180, 0.0, bottom - w))
    return (
        _line((0.0, 0.0), (0.0, bottom)),
        _line((-w, 0.0), (w, 0.0), width_pt=1.1),
        _area(*shell),
        _line((-w, (top + bottom) / 2), (w, (top + bottom) / 2)),
    )


def _filter(w: float, h: float) -> tuple[Element, ...]:
    """A square on its corner with a dashed line across."""
    return (
        _area((-w, 0.0), (0.0, -h), (w, 0.0), (0.0, h)),
        PathItem(((0.0, -h), (0.0, h)), width_pt=_PEN, dash=(3.0, 2.0)),
    )


def _regulator(w: float, h: float) -> tuple[Element, ...]:
    """A valve with its spring."""
    spring = ((0.0, 0.0), (0.0, -1.8), (1.1, -2.2), (-1.1, -2.9), (1.1, -3.6), (-1.1, -4.2))
    return (
        _area((-w, -2.2), (0.0, 0.0), (-w, 2.2)),
        _area((w, -2.2), (0.0, 0.0), (w, 2.2)),
        _line(*spring, (0.0, -h)),
    )


def _check_valve(w: float, h: float) -> tuple[Element, ...]:
    """Lets through towards its bar."""
    return (
        _line((-w, 0.0), (-w + 1.4, 0.0)),
        _area((-w + 1.4, -h), (w - 1.4, 0.0), (-w + 1.4, h)),
        _line((w - 1.4, -h), (w - 1.4, h), width_pt=1.4),
        _line((w - 1.4, 0.0), (w, 0.0)),
    )


def _shut_off(w: float, h: float) -> tuple[Element, ...]:
    return (_area((-w, -h), (0.0, 0.0), (-w, h)), _area((w, -h), (0.0, 0.0), (w, h)))


def _heater(w: float, h: float) -> tuple[Element, ...]:
    """A box with its element."""
    rise = [(-w + 1.0 + 6.0 * at / 8, 1.8 if at % 2 else -1.8) for at in range(9)]
    return (BoxItem(Box(-w, -h, 2 * w, 2 * h), "panel", "ink", 0.0, _PEN), _line(*rise))


def _tee(w: float, h: float) -> tuple[Element, ...]:
    return (RoundItem(0.0, 0.0, w, w, fill="ink", edge="ink", width_pt=0.3),)


def _gauge(w: float, h: float) -> tuple[Element, ...]:
    return (_circle(w), _line((-1.2, 1.4), (1.5, -1.8), width_pt=1.1))


def _basin(w: float, h: float) -> tuple[Element, ...]:
    return (_area((-w, -h), (w, -h), (w - 2.0, h), (-w + 2.0, h)),)


def _floor_drain(w: float, h: float) -> tuple[Element, ...]:
    """A funnel into the ground."""
    return (
        _area((-w, -h), (w, -h), (0.9, h * 0.3), (0.9, h), (-0.9, h), (-0.9, h * 0.3)),
        _line((-w, -h), (w, -h), width_pt=1.4),
    )


def _reference_in(w: float, h: float) -> tuple[Element, ...]:
    return (_area((-w, -h), (w - 2.0, -h), (w, 0.0), (w - 2.0, h), (-w, h)),)


_DRAWN: dict[str, Callable[[float, float], tuple[Element, ...]]] = {
    "breaker": _breaker,
    "breaker us": _breaker_us,
    "receptacle": _receptacle,
    "receptacle us": _receptacle_us,
    "generator": _generator,
    "battery": _battery,
    "transformer": _transformer,
    "mains": _mains,
    "tank": _tank,
    "waste tank": _waste_tank,
    "pump": _pump,
    "accumulator": _accumulator,
    "filter": _filter,
    "regulator": _regulator,
    "check valve": _check_valve,
    "shut-off": _shut_off,
    "heater": _heater,
    "tee": _tee,
    "gauge": _gauge,
    "basin": _basin,
    "floor drain": _floor_drain,
    "reference in": _reference_in,
    "reference out": _reference_in,
}
