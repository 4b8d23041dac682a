"""Amps to hold against limits, added up at every place that a limit is set for.

Two things are asked of these sums that plain physics does not give. A voltage
drop must not relieve a breaker, since the drop is gone with a shorter cord:
so each load counts with what it draws at the supply's own voltage. And a poor
power factor must not hide amps, since nameplates are added as they stand: so
on a leg all currents count in step with the voltage that drives them. What is
left of the phasors is their geometry, legs in opposition or a third of a turn
apart.

The true currents, as the sweep found them behind their cords, are added up as
well, and the larger sum counts: motors that hold their power draw more when
the voltage sags, and lagging currents of two legs do not quite cancel in the
neutral.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from .placed import PlacedLoad, PowerTree
from .sweep import Flow


@dataclass(slots=True)
class Totals:
    """Sums of one case."""

    load_a: list[float]
    """Of each load at the supply's voltage, 0 where it is off."""
    conductors: list[tuple[float, ...]]
    """Of each meter: amps of every conductor of its supply, neutral last."""
    watts: list[float]
    """Of each meter, before any cord."""
    taken_w: list[float]
    """The same with what the cords take, where that is more: what energy and fuel are used for."""

    def heaviest(self, meter: int) -> float:
        """Amps of the heaviest live conductor."""
        return max(self.conductors[meter][:-1], default=0.0)


def add_up(
    tree: PowerTree,
    loads: Sequence[PlacedLoad],
    flow: Flow,
    on: Sequence[bool],
    circuits_only: bool = False,
) -> Totals:
    """Sum one case, at every meter or only at those of circuits.

    Args:
        tree: where everything hangs.
        loads: those of the tree, with what they draw in this case.
        flow: of this case.
        on: which of the loads draw.
        circuits_only: leave out cords, receptacles and the rest; not boxes and supplies.
    """
    meters = tree.meters
    counted: dict[int, list[complex]] = {}
    actual: dict[int, list[complex]] = {}
    watts, taken_w = [0.0] * len(meters), [0.0] * len(meters)
    load_a = [0.0] * len(loads)
    for index, placed in enumerate(loads):
        size = abs(placed.volts)
        if not on[index] or size == 0:
            continue
        swept = flow.load_a[index]
        load_a[index] = placed.model.governing_amps(size)
        in_step = load_a[index] * placed.volts / size
        power = placed.model.watts(placed.volts)
        taken = with_cords_w(placed, swept)
        p, q = placed.draw.p, placed.draw.q
        for meter in placed.circuit_meters if circuits_only else placed.meters:
            if meter not in counted:
                counted[meter] = [0j] * len(placed.source.names)
                actual[meter] = [0j] * len(placed.source.names)
            row, true = counted[meter], actual[meter]
            row[p] += in_step
            row[q] -= in_step
            true[p] += swept
            true[q] -= swept
            watts[meter] += power
            taken_w[meter] += taken
    conductors = [_NOTHING[len(meter.source.names)] for meter in meters]
    for meter, row in counted.items():
        conductors[meter] = tuple(map(max, map(abs, row), map(abs, actual[meter])))
    return Totals(load_a, conductors, watts, taken_w)


def with_cords_w(placed: PlacedLoad, swept_a: complex) -> float:
    """Watts that a load takes from its supply with what its cords take, where that is more.

    Args:
        placed: the load.
        swept_a: its current as the sweep found it [A].
    """
    at_plug = placed.model.watts(placed.volts)
    return max(at_plug, (placed.volts * swept_a.conjugate()).real)


_NOTHING: tuple[tuple[float, ...], ...] = tuple((0.0,) * count for count in range(5))
