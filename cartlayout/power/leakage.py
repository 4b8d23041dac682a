"""Standing leakage to earth, added up behind every device that watches it.

Leakage is not an overload and never explains one: it is what flows to earth through filters and
damp heaters while everything works, and a residual-current device counts all of it. Added as
numbers, not as phasors, which can only be too much.
"""

from collections.abc import Iterator

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
    seen: set[str] = set()
    for item in build.items:
        role = item.specification.electrical
        if not isinstance(role, (Outlet, Box)) or role.gfci is False:
            continue
        for behind in _watched(tree, item, profile, seen):
            leaks = sorted((_leak(placed) for placed in behind), key=lambda leak: -leak.amps)
            yield Leakage(
                key=item.id,
                circuit=behind[0].circuit,
                protected=role.gfci,
                leaks=tuple(leaks),
                budget_a=profile.standing_leakage_a.value,
                hold_a=profile.leakage_hold_a.value,
                trip_a=profile.leakage_trip_a.value,
            )


def _watched(
    tree: PowerTree, item: Item, profile: Profile, seen: set[str]
) -> Iterator[list[PlacedLoad]]:
    """The loads behind each device of an item.

    In the US the device sits in the receptacle or in the breaker of one branch; elsewhere a
    residual-current device at the breaker watches every outlet of its circuit, or a whole box.
    """
    loads = [placed for placed in tree.loads if placed.part == 0]
    behind = [placed for placed in loads if item.id in _hosts(tree, placed)]
    if profile.region == "US":
        by_circuit: dict[str, list[PlacedLoad]] = {}
        for placed in behind:
            by_circuit.setdefault(placed.circuit, []).append(placed)
        is_box = isinstance(item.specification.electrical, Box)
        yield from by_circuit.values() if is_box else ([behind] if behind else [])
        return
    if isinstance(item.specification.electrical, Outlet):
        circuit = next((one for one in tree.circuits if item.id in one.items), None)
        if circuit is None or circuit.key in seen:
            return
        seen.add(circuit.key)
        behind = [placed for placed in loads if set(_hosts(tree, placed)) & set(circuit.items)]
    if behind:
        yield behind


def _hosts(tree: PowerTree, placed: PlacedLoad) -> tuple[str, ...]:
    """Whatever a load's current comes through: outlet, box, strip."""
    return tuple(
        dict.fromkeys(
            (
                *placed.through,
                placed.receptacle[0],
                *(meter.key for at in placed.meters if (meter := tree.meters[at]).kind == "outlet"),
            )
        )
    )


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
