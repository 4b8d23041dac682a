"""What a chart shows, in the units it is read in; nothing here knows of widgets."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Curve:
    """A line through points."""

    name: str
    points: tuple[tuple[float, float], ...]
    strong: bool = False
    """What the chart is about; the others are thin."""


@dataclass(frozen=True, slots=True)
class Level:
    """A line across the whole chart at one height."""

    name: str
    y: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A point that can be pointed at."""

    name: str
    x: float
    y: float
    tip: str
    """Told when it is pointed at, or walked to with the arrows."""
    labelled: bool = False
    """Its name stands beside it wherever there is room."""


@dataclass(frozen=True, slots=True)
class Chart:
    """A whole chart."""

    title: str
    x_name: str
    y_name: str
    """With their units."""
    curves: tuple[Curve, ...] = ()
    levels: tuple[Level, ...] = ()
    spots: tuple[Spot, ...] = ()
    remark: str = ""
    """One line under it."""

    @property
    def spoken(self) -> str:
        """The chart as text, for screen readers."""
        levels = "; ".join(one.name for one in self.levels)
        spots = "; ".join(one.tip.replace("\n", ", ") for one in self.spots)
        return ". ".join(one for one in (self.title, levels, spots) if one)

    @property
    def top(self) -> tuple[float, float]:
        """The greatest x and y that it has to hold."""
        points = [point for curve in self.curves for point in curve.points]
        points += [(spot.x, spot.y) for spot in self.spots]
        points += [(0.0, level.y) for level in self.levels]
        return max((x for x, _ in points), default=1.0), max((y for _, y in points), default=1.0)
