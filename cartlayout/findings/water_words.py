"""What the water rules share: names, sources and the way the pressure goes."""

from dataclasses import dataclass
from functools import cached_property

from ..build import Build, Item, Pump, TubeRun, WaterRole
from ..network.results import Network, Node
from ..units import Phrase, Value
from ..water.results import ALL_OPEN, ALL_SHUT, LadderStep, Tap, WaterResult, alone

PRACTICE = "common practice, no source"


def bar(pressure_pa: float) -> Value:
    """A pressure to be shown."""
    return Value(pressure_pa, "pressure")


def rate(flow: float) -> Value:
    """A flow to be shown."""
    return Value(flow, "flow")


def seconds(value_s: float) -> Value:
    """A short time to be shown."""
    return Value(value_s, "short time") if value_s < 1.0 else Value(value_s, "seconds")


def head(value_m: float) -> Value:
    """A head of water to be shown."""
    return Value(value_m, "distance")


@dataclass(frozen=True)
class Place:
    """A build with its results, and short ways to ask about them."""

    build: Build
    network: Network
    water: WaterResult

    @cached_property
    def items(self) -> dict[str, Item]:
        """Items by id."""
        return {item.id: item for item in self.build.items}

    @cached_property
    def runs(self) -> dict[str, TubeRun]:
        """Tubes by id."""
        return {run.id: run for run in self.build.tubes}

    @cached_property
    def runs_at(self) -> dict[str, tuple[str, ...]]:
        """Item id to the tubes that end at it."""
        at: dict[str, tuple[str, ...]] = {}
        for run in self.runs.values():
            ends = {run.a.item, run.b.item if run.b is not None else run.a.item}
            for item_id in ends:
                at[item_id] = (*at.get(item_id, ()), run.id)
        return at

    @cached_property
    def own_cases(self) -> tuple[str, ...]:
        """Names of the person's own cases."""
        made = {ALL_SHUT, ALL_OPEN, *(alone(tap.name) for tap in self.water.taps)}
        return tuple(name for name in self.water.cases if name not in made)

    def name(self, item_id: str) -> str:
        """What to call an item."""
        item = self.items.get(item_id)
        return item.name if item is not None else item_id

    def role(self, item_id: str) -> WaterRole | None:
        """What an item is to the water side."""
        item = self.items.get(item_id)
        return item.specification.water if item is not None else None

    def tube_name(self, run_id: str) -> str:
        """What to call a tube: its sort, and where it goes."""
        run = self.runs[run_id]
        ends = [self.name(end.item) for end in (run.a, run.b) if end is not None]
        return f"{run.tube.name} from {' to '.join(ends)}"

    def source_of(self, item_id: str) -> str:
        """Where the numbers of an item's water side come from."""
        item = self.items.get(item_id)
        if item is None:
            return ""
        for origin in item.specification.origins:
            if any(word in origin.of for word in ("water", "inlet", "pressure", "flow")):
                note = f", {origin.note}" if origin.note else ""
                return f"specification of {item.name}: {origin.basis}{note}"
        return f"specification of {item.name}"

    def outlet(self, item_id: str) -> Node | None:
        """The port by which water leaves something in the line."""
        item = self.items.get(item_id)
        ports = item.specification.ports if item is not None else ()
        return next(
            (
                (item_id, port.id)
                for port in ports
                if port.medium == "water" and port.direction == "out"
            ),
            None,
        )

    def pump_on_way(self, tap: Tap) -> tuple[str, Pump] | None:
        """The pump that feeds a tap."""
        for step in tap.ladder:
            role = self.role(step.id)
            if isinstance(role, Pump):
                return step.id, role
        return None

    def reached_from(self, start: Node) -> set[Node]:
        """Everything in one piece with a port, valves and directions left aside."""
        graph = self.network.supply
        if start not in graph:
            return set()
        seen, queue = {start}, [start]
        while queue:
            for node in graph.neighbors(queue.pop()):
                if node not in seen:
                    seen.add(node)
                    queue.append(node)
        return seen

    def connected(self, node: Node) -> bool:
        """Whether any supply tube ends at a port."""
        graph = self.network.supply
        return node in graph and graph.degree(node) > 0


def greatest_eater(place: Place, tap: Tap) -> LadderStep | None:
    """The step on the way to a tap that takes most, pumps aside."""
    steps = [step for step in tap.ladder if step.loss_pa > 0.0]
    return max(steps, key=lambda step: step.loss_pa, default=None)


def ladder_working(tap: Tap) -> tuple[Phrase, ...]:
    """The way of the pressure to a tap, a line a step."""
    lines = []
    for step in tap.ladder:
        if step.loss_pa == 0.0:
            lines.append(Phrase.of("{name}: {left}", name=step.name, left=bar(step.pressure_pa)))
            continue
        template = "{name}: takes {change}, leaves {left}"
        if step.loss_pa < 0.0:
            template = "{name}: adds {change}, makes {left}"
        lines.append(
            Phrase.of(
                template, name=step.name, change=bar(abs(step.loss_pa)), left=bar(step.pressure_pa)
            )
        )
    return tuple(lines)
