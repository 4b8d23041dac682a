"""Standing leakage to earth, added up behind every device that watches it.

Leakage is not an overload and never explains one: it is what flows to earth through filters and
damp heaters while everything works, and a residual-current device counts all of it. Added as
numbers, not as phasors, which can only be too much.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ..build import Box, Build, Item, Load, Outlet
from ..limits import Profile
from ..limits.leakage import LeakageSort, leakage_ceiling
from .leakage_results import Leak, Leakage
from .loads import load_model
from .placed import PlacedLoad, PowerTree

_HEATS = 0.5
"""Share of the watts above which an appliance counts as a heater."""


def leakages(build: Build, tree: PowerTree, profile: Profile) -> Iterator[Leakage]:
    """Every device of a build that watches leakage, and every outlet that may have one."""
    watching = [
        item
        for item in build.items
        if isinstance(item.specification.electrical, (Outlet, Box))
        and item.specification.electrical.gfci is not False
    ]
    if not watching:
        return
    seen: set[str] = set()
    loads = [_Leaking(placed, _hosts(tree, placed)) for placed in tree.loads if placed.part == 0]
    for item in watching:
        role = item.specification.electrical
        assert isinstance(role, (Outlet, Box))
        for behind in _watched(tree, item, profile, seen, loads):
            leaks = sorted((one.leak for one in behind), key=lambda leak: -leak.amps)
            yield Leakage(
                key=item.id,
                circuit=_circuit(tree, item) or behind[0].placed.circuit,
                protected=role.gfci,
                leaks=tuple(leaks),
                budget_a=profile.standing_leakage_a.value,
                hold_a=profile.leakage_hold_a.value,
                trip_a=profile.leakage_trip_a.value,
            )


@dataclass(slots=True)
class _Leaking:
    """A load and whatever its current comes through, worked out once for every device."""

    placed: PlacedLoad
    hosts: frozenset[str]
    _leak: Leak | None = None

    @property
    def leak(self) -> Leak:
        if self._leak is None:
            self._leak = _leak(self.placed)
        return self._leak


def _watched(
    tree: PowerTree, item: Item, profile: Profile, seen: set[str], loads: list[_Leaking]
) -> Iterator[list[_Leaking]]:
    """The loads behind each device of an item.

    In the US the device sits in the receptacle or in the breaker of one branch; elsewhere a
    residual-current device at the breaker watches every outlet of its circuit, or a whole box.
    """
    behind = [one for one in loads if item.id in one.hosts]
    if profile.region == "US":
        by_circuit: dict[str, list[_Leaking]] = {}
        for one in behind:
            by_circuit.setdefault(one.placed.circuit, []).append(one)
        is_box = isinstance(item.specification.electrical, Box)
        yield from by_circuit.values() if is_box else ([behind] if behind else [])
        return
    if isinstance(item.specification.electrical, Outlet):
        circuit = next((one for one in tree.circuits if item.id in one.items), None)
        if circuit is None or circuit.key in seen:
            return
        seen.add(circuit.key)
        behind = [one for one in loads if one.hosts & set(circuit.items)]
    if behind:
        yield behind


def _circuit(tree: PowerTree, item: Item) -> str | None:
    """The circuit of an outlet: what hangs on it may be on breakers of a box of its own."""
    if not isinstance(item.specification.electrical, Outlet):
        return None
    return next((one.key for one in tree.circuits if item.id in one.items), None)


def _hosts(tree: PowerTree, placed: PlacedLoad) -> frozenset[str]:
    """Whatever a load's current comes through: outlet, box, strip."""
    outlets = (tree.meters[at].key for at in placed.meters if tree.meters[at].kind == "outlet")
    return frozenset((*placed.through, placed.receptacle[0], *outlets))


def _leak(placed: PlacedLoad) -> Leak:
    load = placed.load
    if load.leakage is not None:
        return Leak(placed.item.id, load.leakage.si, True)
    ceiling = leakage_ceiling(_sort(load))
    watts = load_model(load).rated_w
    return Leak(placed.item.id, ceiling.amps(watts), False, f"{ceiling.rule} ({ceiling.citation})")


def _sort(load: Load) -> LeakageSort:
    if not (load.fastened or load.hardwired):
        return "plugged in"
    return "fastened heater" if load.resistive_share > _HEATS else "fastened motor"
