"""The steps of the guided first cart as data. Whether one is done is read off the build alone."""

from collections.abc import Callable
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Appliance, Item, Load, Outlet, Pump, Tank
from ...power.results import EVERYTHING_ON, Circuit


@dataclass(frozen=True, slots=True)
class Watched:
    """What the guide looks at."""

    analysis: Analysis
    read: bool = False
    """A finding was opened since the guide began."""
    exported: bool = False
    """The plan was exported since the guide began."""

    def with_role(self, role: type) -> tuple[Item, ...]:
        """Items whose electrical or water side is of a sort."""
        return tuple(
            item
            for item in self.analysis.build.items
            if isinstance(item.specification.electrical, role)
            or isinstance(item.specification.water, role)
        )

    def powered(self, item: Item) -> bool:
        """Whether an item's plug is in something that a circuit feeds."""
        return self.analysis.power.item_circuit.get(item.id) is not None

    @property
    def machines(self) -> tuple[Item, ...]:
        """Appliances that take both power and water."""
        return tuple(
            item
            for item in self.with_role(Appliance)
            if isinstance(item.specification.electrical, Load)
        )

    @property
    def circuits(self) -> tuple[Circuit, ...]:
        """The venue's circuits, those of boxes on the cart left out."""
        return tuple(one for one in self.analysis.power.circuits if one.parent is None)

    @property
    def balanced(self) -> bool:
        """Loads on two circuits or more, and none of them over its rating."""
        loaded = [one for one in self.circuits if one.amps.get(EVERYTHING_ON, 0.0) > 0.0]
        return len(loaded) > 1 and all(one.share <= 1.0 for one in loaded)


def _has_outlet(watched: Watched) -> bool:
    return bool(watched.with_role(Outlet))


def _has_machine(watched: Watched) -> bool:
    return bool(watched.machines)


def _machine_powered(watched: Watched) -> bool:
    return any(watched.powered(item) for item in watched.machines)


def _has_jug(watched: Watched) -> bool:
    return any(
        isinstance(tank := item.specification.water, Tank) and tank.contents == "fresh"
        for item in watched.with_role(Tank)
    )


def _has_pump(watched: Watched) -> bool:
    return bool(watched.with_role(Pump))


def _pump_powered(watched: Watched) -> bool:
    return any(watched.powered(item) for item in watched.with_role(Pump))


def _water_arrives(watched: Watched) -> bool:
    return any(tap.fed for tap in watched.analysis.water.taps)


def _third_load(watched: Watched) -> bool:
    others = [
        item
        for item in watched.with_role(Load)
        if not isinstance(item.specification.water, Appliance | Pump)
    ]
    return any(watched.powered(item) for item in others)


def _finding_read(watched: Watched) -> bool:
    return watched.read or watched.balanced


def _two_circuits(watched: Watched) -> bool:
    return len(watched.circuits) > 1


def _balanced(watched: Watched) -> bool:
    return watched.balanced


def _exported(watched: Watched) -> bool:
    return watched.exported


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do."""

    key: str
    title: str
    text: str
    where: str
    """The part of the window it is done in: "plan", or a name of `panels.PANELS`, or "tools"."""
    done: Callable[[Watched], bool]
    find: str = ""
    """Words for the stock's search field."""


STEPS: tuple[Step, ...] = (
    Step(
        "outlet",
        "Bring in the power",
        "Everything begins with what the venue gives. Find an outlet in the stock and drag it onto "
        "the band above the cart, or press Enter on it.",
        "stock",
        _has_outlet,
        "outlet",
    ),
    Step(
        "machine",
        "Place the espresso machine",
        "Drag an espresso machine with a water inlet onto the counter. It snaps to edges and to "
        "its neighbours; hold Ctrl to place it freely.",
        "stock",
        _has_machine,
        "espresso machine 1 group",
    ),
    Step(
        "plug",
        "Plug it in",
        "Point at the machine: its ports appear. Drag from the plug to the outlet. Places that "
        "fit light up. By keyboard: select it and press C.",
        "plan",
        _machine_powered,
    ),
    Step(
        "jug",
        "Give it water",
        "Place a fresh-water jug. It belongs on the base, under the counter: the level is chosen "
        "for you.",
        "stock",
        _has_jug,
        "water jug",
    ),
    Step(
        "pump",
        "Place a pump",
        "Water does not climb by itself. Place a demand pump beside the jug.",
        "stock",
        _has_pump,
        "demand pump",
    ),
    Step(
        "pump-plug",
        "Plug in the pump",
        "A pump needs power too. Drag its plug to the outlet, or select it and press C.",
        "plan",
        _pump_powered,
    ),
    Step(
        "tubes",
        "Run the tubes",
        "Drag from the jug's outlet to the pump's inlet, then from the pump's outlet to the "
        "machine's inlet. Tube and ends are chosen for you; the board Taps shows the pressure "
        "that arrives.",
        "plan",
        _water_arrives,
    ),
    Step(
        "kettle",
        "Add a kettle, and plug it in",
        "One more heater, as carts have them. Plug it into the same outlet if it has room, and "
        "watch the bar of the circuit.",
        "stock",
        _third_load,
        "kettle",
    ),
    Step(
        "read",
        "Read what the program says",
        "Findings stand at the lower right, the worst first. Click one: it says what to do and "
        "where its limit is from, and shows the culprit on the plan.",
        "findings",
        _finding_read,
    ),
    Step(
        "circuits",
        "Find a second circuit",
        "Place another outlet. Two outlets count as two circuits only when their breakers are "
        "known to be two: ask the venue, then select each outlet and name its circuit in Details.",
        "details",
        _two_circuits,
        "outlet",
    ),
    Step(
        "balance",
        "Share the load",
        "Drag the kettle from its bar to the other bar, or its plug to the other outlet. Both "
        "bars have to stay within their breakers.",
        "circuits",
        _balanced,
    ),
    Step(
        "export",
        "Take it with you",
        "Export the plan as PDF: the drawing with every number, for the electrician and the "
        "plumber who check it.",
        "tools",
        _exported,
    ),
)


def done(watched: Watched, steps: tuple[Step, ...] = STEPS) -> tuple[bool, ...]:
    """Which steps are done, in whatever order they were."""
    return tuple(step.done(watched) for step in steps)


def next_step(ticks: tuple[bool, ...], skipped: frozenset[str]) -> int | None:
    """Number of the first step that is neither done nor skipped; None: there is none left."""
    return next(
        (at for at, ticked in enumerate(ticks) if not ticked and STEPS[at].key not in skipped),
        None,
    )
