"""What can be wrong with a line, each with one number to turn, written into a copy of the build.

A suspect says between what its number may lie and what it is as drawn, puts a value into a build
as an ordinary edit, and says the value in words. So what a diagnosis has fitted can be taken over
as it is.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from msgspec.structs import replace

from ..build import (
    Build,
    CheckValve,
    Filter,
    FlowPoint,
    Item,
    Mains,
    PipeFitting,
    Pump,
    Regulator,
    ShutOff,
    TubeRun,
)
from ..build.edits import replace_run
from ..units import Flow, Phrase, Value
from .stuck_valves import StickingCheck, StuckOpenCheck
from .suspect import ABSURD_PA, Kind, OfItem, Suspect, pressure, scaled

PINCHED = "pinched place"
"""Name of the fitting that stands for it in a tube."""
_WORN_OUT = 2.1
"""Times the clean loss; up to twice is within the life of a cartridge."""
_MOST_CLOGGED = 60.0
"""Times the clean loss."""
_MOST_PINCHED = 3e5
"""Velocity heads: a passage of one part in nine hundred."""
_VENA_CONTRACTA = 0.61
"""Share of a sharp-edged hole that the jet behind it fills (fluid-mechanics textbooks)."""
_HIGHEST_PA = 16e5
_LOWEST_PA = 2e3


def suspects(
    items: Iterable[Item], tubes: Iterable[TubeRun], names: dict[str, str]
) -> list[Suspect]:
    """Everything about some items and tubes that gauges can tell of.

    Args:
        items: of the lines that gauges were read in.
        tubes: of them that water runs through in a case that was read.
        names: what to call each tube, by id.
    """
    found: list[Suspect] = [one for item in items for one in _of_item(item)]
    found += [PinchedTube(run, names.get(run.id, run.tube.name)) for run in tubes]
    return found


def _of_item(item: Item) -> Iterator[Suspect]:
    role = item.specification.water
    if isinstance(role, Filter) and any(one.pressure.si > 0.0 for one in role.loss):
        yield UsedFilter(item, role)
    elif isinstance(role, Pump):
        yield WeakPump(item, role)
        yield MovedSwitch(item, role)
    elif isinstance(role, Regulator):
        yield MovedRegulator(item, role)
    elif isinstance(role, Mains):
        yield OtherMains(item, role)
    elif isinstance(role, ShutOff) and role.is_open:
        yield TurnedValve(item, role)
    elif isinstance(role, CheckValve):
        if role.wide_open.flow.si > 0.0:
            yield StickingCheck(item, role)
        if not role.stuck_open:
            yield StuckOpenCheck(item, role)


@dataclass(frozen=True, slots=True)
class UsedFilter(OfItem):
    """A cartridge that has caught more, or less, than it is taken to have; ln of times clean."""

    role: Filter

    @property
    def kind(self) -> Kind:
        """Used up."""
        return "filter used up"

    @property
    def span(self) -> tuple[float, float, float]:
        """From new to a sixtieth of the flow."""
        used = min(max(self.role.used, 0.0), 1.0)
        return 0.0, -math.log1p(-used / 2.0), math.log(_MOST_CLOGGED)

    def put(self, build: Build, value: float) -> Build:
        """Used as much as gives that loss; beyond the end of its life its table grows."""
        times = math.exp(value)
        if times <= 2.0:
            return self.with_role(build, replace(self.role, used=self._used(times)))
        loss = tuple(
            replace(one, pressure=scaled(one.pressure, times / 2.0)) for one in self.role.loss
        )
        return self.with_role(build, replace(self.role, used=1.0, loss=loss))

    def words(self, value: float) -> Phrase:
        """How much of it is used up."""
        times = math.exp(value)
        if times > _WORN_OUT:
            return Phrase.of(
                "{item} is clogged and takes {times} times as much as a new one",
                item=self.item.name,
                times=Value(times, "number", 1),
            )
        return Phrase.of(
            "{item} is {used} used up", item=self.item.name, used=Value(self._used(times), "share")
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        times = math.exp(value)
        if times > _WORN_OUT:
            return Phrase.of("Take {item} as clogged", item=self.item.name)
        return Phrase.of(
            "Take {item} as {used} used up",
            item=self.item.name,
            used=Value(self._used(times), "share"),
        )

    @staticmethod
    def _used(times: float) -> float:
        return round(min(max(2.0 * (1.0 - 1.0 / times), 0.0), 1.0), 3)


@dataclass(frozen=True, slots=True)
class WeakPump(OfItem):
    """A pump that gives a share of its table's flow at every pressure."""

    role: Pump

    @property
    def kind(self) -> Kind:
        """Weak."""
        return "pump weak"

    @property
    def span(self) -> tuple[float, float, float]:
        """From nearly nothing to a third more than its table."""
        return 0.03, 1.0, 1.3

    def put(self, build: Build, value: float) -> Build:
        """Scale the flows of its table."""
        curve = tuple(
            replace(one, flow=Flow.from_si(one.flow.si * value, one.flow.unit, 4))
            for one in self.role.curve
        )
        return self.with_role(build, replace(self.role, curve=curve))

    def words(self, value: float) -> Phrase:
        """What it gives of its table."""
        return Phrase.of(
            "{item} gives {share} of the flow in its table",
            item=self.item.name,
            share=Value(value, "share"),
        )

    def taken(self, value: float) -> Phrase:
        """Take its table as that."""
        return Phrase.of(
            "Take {item} as giving {share} of its flow",
            item=self.item.name,
            share=Value(value, "share"),
        )


@dataclass(frozen=True, slots=True)
class MovedSwitch(OfItem):
    """A pressure switch whose one screw moves cut-out and cut-in together."""

    role: Pump

    @property
    def kind(self) -> Kind:
        """Moved."""
        return "pump switch moved"

    @property
    def span(self) -> tuple[float, float, float]:
        """As far as the pump's table goes."""
        now = self.role.cut_out.si
        top = max((one.pressure.si for one in self.role.curve), default=now)
        return _LOWEST_PA, now, min(max(top, 1.5 * now, 2 * _LOWEST_PA), ABSURD_PA)

    def put(self, build: Build, value: float) -> Build:
        """Move both."""
        moved = value - self.role.cut_out.si
        cut_in = max(self.role.cut_in.si + moved, 0.5 * _LOWEST_PA)
        role = replace(
            self.role,
            cut_out=pressure(value, self.role.cut_out),
            cut_in=pressure(cut_in, self.role.cut_in),
        )
        return self.with_role(build, role)

    def words(self, value: float) -> Phrase:
        """Where it stops the pump."""
        return Phrase.of(
            "the switch of {item} stops it at {there}, not at {here}",
            item=self.item.name,
            there=Value(value, "pressure"),
            here=Value(self.role.cut_out.si, "pressure"),
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        return Phrase.of(
            "Take {item} as stopping at {there}",
            item=self.item.name,
            there=Value(value, "pressure"),
        )


@dataclass(frozen=True, slots=True)
class MovedRegulator(OfItem):
    """A regulator that is set otherwise."""

    role: Regulator

    @property
    def kind(self) -> Kind:
        """Moved."""
        return "regulator moved"

    @property
    def span(self) -> tuple[float, float, float]:
        """Anywhere a small regulator can be set."""
        now = self.role.set_point.si
        return _LOWEST_PA, now, min(max(2.0 * now, 8e5), ABSURD_PA)

    def put(self, build: Build, value: float) -> Build:
        """Set it."""
        point = pressure(value, self.role.set_point)
        return self.with_role(build, replace(self.role, set_point=point))

    def words(self, value: float) -> Phrase:
        """Where it is set."""
        return Phrase.of(
            "{item} is set to {there}, not to {here}",
            item=self.item.name,
            there=Value(value, "pressure"),
            here=Value(self.role.set_point.si, "pressure"),
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        return Phrase.of(
            "Take {item} as set to {there}", item=self.item.name, there=Value(value, "pressure")
        )


@dataclass(frozen=True, slots=True)
class OtherMains(OfItem):
    """A venue whose pressure is another today; what its service pipe loses stays."""

    role: Mains

    @property
    def kind(self) -> Kind:
        """Higher or lower."""
        return "mains different"

    @property
    def span(self) -> tuple[float, float, float]:
        """From nothing to more than any venue has."""
        return 0.0, self.role.usual.si, min(max(_HIGHEST_PA, self.role.usual.si), ABSURD_PA)

    def put(self, build: Build, value: float) -> Build:
        """One pressure at rest: it has been gauged."""
        residual = self.role.residual
        if residual is not None:
            left = max(residual.pressure.si + value - self.role.usual.si, 0.0)
            residual = FlowPoint(residual.flow, pressure(left, residual.pressure))
        role = replace(
            self.role,
            usual=pressure(value, self.role.usual),
            least=None,
            greatest=None,
            residual=residual,
        )
        return self.with_role(build, role)

    def words(self, value: float) -> Phrase:
        """What it stands at."""
        return Phrase.of(
            "{item} stands at {there}, not at {here}",
            item=self.item.name,
            there=Value(value, "pressure"),
            here=Value(self.role.usual.si, "pressure"),
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        return Phrase.of(
            "Take {item} as standing at {there}",
            item=self.item.name,
            there=Value(value, "pressure"),
        )


@dataclass(frozen=True, slots=True)
class TurnedValve(OfItem):
    """A valve whose handle is not where it is drawn."""

    role: ShutOff

    @property
    def kind(self) -> Kind:
        """Not fully open."""
        return "valve not open"

    @property
    def span(self) -> tuple[float, float, float]:
        """From open to nearly shut."""
        return 0.0, min(max(self.role.closed_share, 0.0), 0.995), 0.995

    def put(self, build: Build, value: float) -> Build:
        """Turn its handle."""
        return self.with_role(build, replace(self.role, closed_share=round(value, 4)))

    def words(self, value: float) -> Phrase:
        """How far it is turned."""
        return Phrase.of(
            "{item} is turned {share} towards shut",
            item=self.item.name,
            share=Value(value, "share"),
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        return Phrase.of(
            "Take {item} as {share} shut", item=self.item.name, share=Value(value, "share")
        )


@dataclass(frozen=True, slots=True)
class PinchedTube:
    """A kink, a crushed place, something stuck: ln(1 + velocity heads) more in one tube."""

    run: TubeRun
    name: str

    @property
    def kind(self) -> Kind:
        """Pinched."""
        return "tube pinched"

    @property
    def items(self) -> tuple[str, ...]:
        """None."""
        return ()

    @property
    def runs(self) -> tuple[str, ...]:
        """The tube."""
        return (self.run.id,)

    @property
    def span(self) -> tuple[float, float, float]:
        """From free to a hair's breadth."""
        now = sum(one.loss_coefficient for one in self.run.fittings if one.name == PINCHED)
        return 0.0, math.log1p(max(now, 0.0)), math.log1p(_MOST_PINCHED)

    def put(self, build: Build, value: float) -> Build:
        """One more fitting along it."""
        heads = round(math.expm1(value), 3)
        others = tuple(one for one in self.run.fittings if one.name != PINCHED)
        more = (PipeFitting(PINCHED, heads),) if heads > 0.0 else ()
        return replace_run(build, replace(self.run, fittings=(*others, *more)))

    def words(self, value: float) -> Phrase:
        """How much of its passage is left."""
        return Phrase.of(
            "{tube} is pinched: about {share} of its passage is left",
            tube=self.name,
            share=Value(passage_left(math.expm1(value)), "share"),
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        return Phrase.of("Take {tube} as pinched", tube=self.name)


def passage_left(velocity_heads: float) -> float:
    """Share of a tube's passage that a sharp-edged hole with this loss leaves open.

    Borda and Carnot: the jet behind the hole fills 0.61 of it and loses (1/(0.61 s) - 1)^2
    velocity heads of the tube as it widens again.
    """
    return min(1.0 / (_VENA_CONTRACTA * (1.0 + math.sqrt(max(velocity_heads, 0.0)))), 1.0)
