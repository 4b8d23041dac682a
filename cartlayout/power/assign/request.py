"""What to ask the venue for: the fewest usual circuits that carry the cart."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...build import Build, Item, Load
from ...limits import Profile, plug_fits, profile
from ..limits_check import is_continuous_load
from ..loads import LoadModel, line_amps, load_model
from .program import ROUNDING
from .usual import UsualCircuit, usual_circuits

_AMPS = 1e-4
"""Worth of an ampere of breaker, in circuits: of equal counts the smaller breakers win."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One circuit to ask for."""

    volts: float
    amps: float
    receptacle: str
    loads: tuple[str, ...]
    """Ids of what goes on it."""
    drawn_a: float
    """The most that is on together."""
    alone: bool
    """It must feed nothing else: its load is too large, or its maker says so."""


@dataclass(frozen=True, slots=True)
class Request:
    """All of them."""

    circuits: tuple[Wanted, ...]
    left_out: tuple[str, ...]
    """Ids of loads that no usual circuit takes."""
    proven: bool
    gap: float


@dataclass(frozen=True, slots=True)
class _Plugged:
    item: Item
    load: Load
    model: LoadModel
    plug: str
    continuous: bool


def request(
    build: Build, cases: Sequence[Sequence[str]] | None = None, most_s: float = 2.0
) -> Request:
    """The least set of circuits for a build's loads.

    Args:
        build: any build; what is plugged in where plays no part.
        cases: ids of the loads that are on together, case by case; None: everything on.
        most_s: time for the search [s].
    """
    rules = profile(build.region)
    loads = list(_loads(build, rules))
    kinds = usual_circuits(rules)
    fits = [[_fit(one, kind, rules) for kind in kinds] for one in loads]
    left_out = tuple(one.item.id for one, row in zip(loads, fits, strict=True) if not any(row))
    kept = [at for at, row in enumerate(fits) if any(row)]
    together = [set(case) for case in cases] if cases else [{one.item.id for one in loads}]
    if not kept:
        return Request((), left_out, True, 0.0)
    packing = _Packing([loads[at] for at in kept], [fits[at] for at in kept], kinds, together)
    return packing.solve(left_out, most_s)


def _loads(build: Build, rules: Profile) -> "list[_Plugged]":
    found = []
    for item in build.items:
        role = item.specification.electrical
        if not isinstance(role, Load):
            continue
        plug = next(
            (
                port.connector
                for port in item.specification.ports
                if port.medium == "power" and port.direction == "in"
            ),
            None,
        )
        if plug is not None:
            longer = is_continuous_load(build, role, rules)
            found.append(_Plugged(item, role, load_model(role), plug, longer))
    return found


@dataclass(frozen=True, slots=True)
class _Fit:
    amps: float
    counted: float
    """With the factor for continuous loads."""
    alone: bool


def _fit(one: _Plugged, kind: UsualCircuit, rules: Profile) -> _Fit | None:
    """What a load takes of a circuit of a kind; None where it cannot go on it at all."""
    low = one.load.lowest_voltage.si if one.load.lowest_voltage else 0.9 * one.load.voltage.si
    high = one.load.highest_voltage.si if one.load.highest_voltage else 1.1 * one.load.voltage.si
    if not plug_fits(one.plug, kind.receptacle) or not low <= kind.volts <= high:
        return None
    amps = line_amps(one.load, one.model, kind.volts)
    factor = rules.continuous_factor.value if rules.continuous_factor is not None else 1.0
    counted = amps * (factor if one.continuous else 1.0)
    if counted > kind.amps * ROUNDING:
        return None
    share = rules.one_appliance_share
    large = share is not None and amps > share.value * kind.amps * ROUNDING
    return _Fit(amps, counted, large or one.load.needs_own_circuit)


class _Packing:
    """Loads into circuits, as a mixed-integer program.

    The heaviest load comes first, and circuit k takes load k or later ones, so that circuits
    which are alike are not tried in every order.
    """

    def __init__(
        self,
        loads: list[_Plugged],
        fits: list[list[_Fit | None]],
        kinds: tuple[UsualCircuit, ...],
        together: list[set[str]],
    ) -> None:
        order = sorted(range(len(loads)), key=lambda at: -max(f.amps for f in fits[at] if f))
        self.loads = [loads[at] for at in order]
        self.fits = [fits[at] for at in order]
        self.kinds, self.together = kinds, together
        keys = [
            (load, circuit, kind)
            for load, row in enumerate(self.fits)
            for circuit in range(load + 1)
            for kind, fit in enumerate(row)
            if fit is not None
        ]
        self.on = {key: at for at, key in enumerate(keys)}
        self.used = {
            (circuit, kind): len(keys) + circuit * len(kinds) + kind
            for circuit in range(len(loads))
            for kind in range(len(kinds))
        }
        self.rows: list[dict[int, float]] = []
        self.bounds: list[tuple[float, float]] = []

    def solve(self, left_out: tuple[str, ...], most_s: float) -> Request:
        """The least set of circuits that was found, and whether it is proven."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        for load in range(len(self.loads)):
            self._add({at: 1.0 for key, at in self.on.items() if key[0] == load}, 1.0, 1.0)
        for circuit in range(len(self.loads)):
            kinds = range(len(self.kinds))
            self._add({self.used[circuit, kind]: 1.0 for kind in kinds}, 0.0, 1.0)
            for kind in kinds:
                self._circuit(circuit, kind)
        count = len(self.on) + len(self.used)
        cost = np.zeros(count)
        for (_, kind), at in self.used.items():
            cost[at] = 1.0 + _AMPS * self.kinds[kind].amps
        low, high = zip(*self.bounds, strict=True)
        result = milp(
            cost,
            constraints=LinearConstraint(self._matrix(count), low, high),
            integrality=np.ones(count),
            bounds=Bounds(0.0, 1.0),
            options={"time_limit": most_s, "mip_rel_gap": 1e-5},
        )
        if result.x is None:
            ids = tuple(one.item.id for one in self.loads)
            return Request((), (*left_out, *ids), False, 1.0)
        proven = result.status == 0
        gap = 0.0 if proven else float(getattr(result, "mip_gap", 1.0) or 0.0)
        return Request(self._wanted(result.x), left_out, proven, gap)

    def _add(self, terms: dict[int, float], least: float, most: float) -> None:
        self.rows.append(terms)
        self.bounds.append((least, most))

    def _circuit(self, circuit: int, kind: int) -> None:
        """What one circuit, if it is of one kind, may carry."""
        used, rating_a = self.used[circuit, kind], self.kinds[kind].amps * ROUNDING
        mine = {
            load: at
            for (load, there, sort), at in self.on.items()
            if (there, sort) == (circuit, kind)
        }
        fits = {load: fit for load in mine if (fit := self.fits[load][kind]) is not None}
        for at in mine.values():
            self._add({at: 1.0, used: -1.0}, -math.inf, 0.0)
        for case in self.together:
            terms = {
                mine[load]: fit.counted
                for load, fit in fits.items()
                if self.loads[load].item.id in case
            }
            self._add(terms | {used: -rating_a}, -math.inf, 0.0)
        for load, fit in fits.items():
            if fit.alone and len(mine) > 1:
                others = {at: 1.0 for other, at in mine.items() if other != load}
                self._add(others | {mine[load]: float(len(mine))}, -math.inf, float(len(mine)))

    def _matrix(self, count: int) -> Any:
        from scipy.sparse import csr_array

        at = [row for row, terms in enumerate(self.rows) for _ in terms]
        columns = [column for terms in self.rows for column in terms]
        values = [value for terms in self.rows for value in terms.values()]
        return csr_array((values, (at, columns)), shape=(len(self.rows), count))

    def _wanted(self, found: "np.ndarray[Any, Any]") -> tuple[Wanted, ...]:
        groups: dict[tuple[int, int], list[int]] = {}
        for (load, circuit, kind), at in self.on.items():
            if found[at] > 0.5:
                groups.setdefault((circuit, kind), []).append(load)
        wanted = []
        for (_, kind), members in groups.items():
            fits = [(self.loads[load].item.id, self.fits[load][kind]) for load in members]
            amps = {item: fit.amps for item, fit in fits if fit is not None}
            most = max(sum(amps.get(one, 0.0) for one in case) for case in self.together)
            alone = any(fit.alone for _, fit in fits if fit is not None)
            sort = self.kinds[kind]
            wanted.append(Wanted(sort.volts, sort.amps, sort.receptacle, tuple(amps), most, alone))
        return tuple(sorted(wanted, key=lambda one: (-one.volts, -one.amps, -one.drawn_a)))
