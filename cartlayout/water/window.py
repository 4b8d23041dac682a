"""The window that a pump or a mains tap has to hit.

Its lower edge is the least pressure at the supply's outlet, with water flowing, at which every
tap that is open has its pressure and its flow, through the tubes and filters as they are; its
upper edge the most that taps, heaters and tubes may see with everything shut. Costs a few solutions
for each case, so it is worked out when somebody asks.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..build import Filter, Heater, Item, Mains, Pump
from ..limits.water_practice import water_practice
from ..network.results import Node
from .cases import Solved
from .fixed_source import FixedSource, Least, without_mains, without_pump
from .hydraulics import Conditions, Key, Sketch, solve
from .model import Model, PassedPlace, TapPlace
from .reach import AtRest, Limit
from .set_points import SetPoints
from .supply_results import (
    Arrival,
    Expected,
    Need,
    SetPoint,
    SupplyWindow,
    TubeStatic,
    WindowEdge,
)

Taps = frozenset[Key]


@dataclass(frozen=True, slots=True)
class Asked:
    """A case of one line: what opens, and whether that sets the window."""

    case: str
    opened: Taps
    counts: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a build, with the names that its taps have in the whole of it."""

    model: Model
    items: Mapping[str, Item]
    taps: tuple[TapPlace, ...]
    statics: tuple[TubeStatic, ...]
    tubes: dict[str, tuple[str, Node, Node]]
    """Id of each to its name and its ends."""
    cases: tuple[tuple[str, Taps, bool], ...]
    """Name, open taps, and whether the person entered it."""
    solved: Mapping[Taps, Solved]
    """Of the line as it is."""


@dataclass(frozen=True, slots=True)
class Empty:
    """A window whose lower edge lies above its upper one, and regulators that open it."""

    least: WindowEdge
    greatest: WindowEdge
    set_points: tuple[SetPoint, ...] = ()
    opened_least: WindowEdge | None = None
    """With these regulators; no lower than the upper edge without them."""
    opened_greatest: WindowEdge | None = None


class Supply:
    """One pump or mains tap and the line behind it."""

    def __init__(self, line: Line, item: Item, role: Pump | Mains, outlets: Sequence[Node]) -> None:
        self.line, self.item, self.role, self.outlets = line, item, role, tuple(outlets)
        self.bare = self._bare()
        self.rest = AtRest(self.bare, self.outlets)
        self.taps = [tap for tap in line.taps if tap.node in self.rest]
        self.by_node: dict[Key, TapPlace] = {tap.node: tap for tap in self.taps}
        self.edges = [*self.rest.lowest(self.limits(self.bare))]

    def _bare(self) -> Sketch:
        if isinstance(self.role, Pump):
            return without_pump(self.line.model, self.item.id)
        return without_mains(self.line.model, self.item.id, self.outlets)

    @property
    def others_pa(self) -> dict[Key, float]:
        """Other pumps of the line are taken at their cut-in."""
        return {
            pump.item.id: min(pump.role.cut_in.si, pump.role.cut_out.si)
            for pump in self.line.model.pumps
            if pump.item.id != self.item.id
        }

    @cached_property
    def source(self) -> FixedSource:
        """The line with this supply held at any pressure."""
        bare = self.bare.copy()
        return FixedSource(self.line.model, bare, self.outlets, self.others_pa)

    def limits(self, sketch: Sketch) -> Iterator[Limit]:
        """What taps, heaters and tubes may see at most, where they hang in a sketch."""
        for tap in self.taps:
            greatest_pa = tap.inlet.greatest_pressure.si
            node = sketch.taps[tap.node][0]
            yield Limit(node, greatest_pa, tap.name, tap.item.id, tap.inlet.port)
        for place in self.line.model.passed:
            role = place.role
            if isinstance(role, Heater) and role.greatest_pressure is not None:
                port = str(place.inlet[1])
                pressure_pa = role.greatest_pressure.si
                yield Limit(place.inlet, pressure_pa, place.item.name, place.item.id, port)
        for static in self.line.statics:
            if static.rating_pa is not None:
                name, a, b = self.line.tubes[static.run]
                yield Limit(a, static.rating_pa, name, run=static.run)
                yield Limit(b, static.rating_pa, name, run=static.run)

    def asked(self) -> list[Asked]:
        """The cases of its taps, no set of them twice.

        Each tap alone and the person's cases set the window; everything open does where
        no case of the person's says which of them run together.
        """
        mine = frozenset(self.by_node)
        own = [opened & mine for _, opened, entered in self.line.cases if entered]
        told = any(len(opened) > 1 for opened in own)
        found: dict[Taps, Asked] = {}
        for case, opened, entered in self.line.cases:
            here = opened & mine
            if here:
                counts = entered or len(here) == 1 or not told
                known = found.get(here)
                if known is None or (counts and not known.counts):
                    found[here] = Asked(case, here, counts)
        return [*found.values()]

    @property
    def greatest(self) -> WindowEdge | None:
        """The upper edge."""
        return edge_of(self.edges)

    @cached_property
    def emptiness(self) -> "Empty | None":
        """Why no pressure does for all, and what would help; None where one does.

        Much cheaper than the window: one solution for each case that is fed at the upper edge.
        """
        if not self.edges or not self.taps:
            return None
        top_pa = max(self.edges[0][0], 0.0)
        counting = [one for one in self.asked() if one.counts]
        if self.edges[0][0] >= 0.0:
            short = [one for one in counting if not self.source.is_enough(one.opened, top_pa)]
        else:
            short = counting
        found = [self._need(one, self._least(one, top_pa)) for one in short]
        least, greatest = _lower_edge(found), self.greatest
        if least is None or greatest is None:
            return None
        opened = SetPoints(self).opened([one.opened for one in counting])
        if opened is None:
            return Empty(least, greatest)
        points, source, edges = opened
        # What was fed at the upper edge mostly still is: only what was not is looked for.
        again = [
            one for one in counting if one in short or not source.is_enough(one.opened, top_pa)
        ]
        needs = [self._need(one, source.least(one.opened, top_pa)) for one in again]
        return Empty(least, greatest, points, _lower_edge(needs), edge_of(edges))

    @cached_property
    def window(self) -> SupplyWindow | None:
        """The whole window; None where no tap hangs on it."""
        if not self.taps:
            return None
        found = [(one, self._least(one)) for one in self.asked()]
        needs = [self._need(one, least) for one, least in found]
        needs.sort(key=lambda one: (not one.counts, -one.least_pa))
        hungriest = max((one for one in needs if one.counts), key=lambda one: one.flow)
        low_pa, high_pa, known = self._range()
        window = SupplyWindow(
            item=self.item.id,
            name=self.item.name,
            kind="pump" if isinstance(self.role, Pump) else "mains",
            outlet=self.outlets[0],
            flow=hungriest.flow,
            flow_case=hungriest.case,
            flow_taps=tuple(self.by_node[node].name for node in hungriest.taps),
            least=_lower_edge(needs),
            greatest=self.greatest,
            needs=tuple(needs),
            low_pa=low_pa,
            high_pa=high_pa,
            known=known,
        )
        if not window.is_open:
            counting = [one for one, _ in found if one.counts]
            points, opened_least, opened_greatest = self._opened(counting)
            window = replace(
                window,
                set_points=points,
                opened_least=opened_least,
                opened_greatest=opened_greatest,
            )
        if isinstance(self.role, Mains):
            window = replace(window, arrival=self._arrival(self.role, found))
        return window

    def _least(self, asked: Asked, from_pa: float = 0.0) -> Least:
        solved = self.line.solved.get(asked.opened)
        return self.source.least(asked.opened, from_pa, solved.low if solved is not None else None)

    def _need(self, asked: Asked, least: Least) -> Need:
        last = least.last
        item, port, name = "", "", ""
        if isinstance(last, PassedPlace):
            item, port, name = last.item.id, str(last.inlet[1]), last.item.name
        elif last is not None:
            own = self.by_node[last.node]
            item, port, name = own.item.id, own.inlet.port, own.name
        at_rest_pa = least.pressure_pa
        if isinstance(self.role, Mains) and least.pressure_pa < math.inf:
            at_rest_pa += self._service_pa(self.role, least.flow)
        order = [tap.node for tap in self.taps if tap.node in asked.opened]
        return Need(
            asked.case,
            tuple(order),
            least.pressure_pa,
            least.flow,
            item,
            port,
            name,
            asked.counts,
            at_rest_pa,
            self._given_pa(asked),
        )

    def _given_pa(self, asked: Asked) -> float:
        """What the supply gives in a case where it gives least, as the line is now."""
        solved = self.line.solved.get(asked.opened)
        if solved is None or not solved.low.converged:
            return 0.0
        return solved.low.pressures_pa.get(self.outlets[0], 0.0)

    def _service_pa(self, role: Mains, flow: float) -> float:
        """What the pipe behind a mains tap takes: it goes by the square of the flow."""
        residual = role.residual
        if residual is None or residual.flow.si <= 0.0:
            return 0.0
        share = flow / residual.flow.si
        return max(role.usual.si - residual.pressure.si, 0.0) * share * share

    def _range(self) -> tuple[float, float, bool]:
        role = self.role
        if isinstance(role, Pump):
            ends = role.cut_in.si, role.cut_out.si
            return min(ends), max(ends), True
        practice, usual_pa = water_practice(), role.usual.si
        least_pa = min(practice.mains_least_pa.value, usual_pa)
        most_pa = max(practice.mains_greatest_pa.value, usual_pa)
        return (
            role.least.si if role.least is not None else least_pa,
            role.greatest.si if role.greatest is not None else most_pa,
            role.least is not None and role.greatest is not None,
        )

    def _opened(
        self, counting: Sequence[Asked]
    ) -> tuple[tuple[SetPoint, ...], WindowEdge | None, WindowEdge | None]:
        """Regulators that open an empty window, and the window with them."""
        opened = SetPoints(self).opened([one.opened for one in counting])
        if opened is None:
            return (), None, None
        points, source, edges = opened
        needs = [self._need(one, source.least(one.opened)) for one in counting]
        return points, _lower_edge(needs), edge_of(edges)

    # --- what to gauge on arrival ----------------------------------------------------------------

    def gauge_place(self) -> tuple[Node, Item]:
        """Where to hold a gauge: behind the filter that most taps hang on, else at the tap."""
        filters = [
            one
            for one in self.line.model.passed
            if isinstance(one.role, Filter) and one.outlet in self.rest and one.taps
        ]
        if not filters:
            return self.outlets[0], self.item
        best = max(filters, key=lambda one: len(one.taps))
        return best.outlet, best.item

    def _arrival(self, role: Mains, found: Iterable[tuple[Asked, Least]]) -> Arrival:
        node, behind = self.gauge_place()
        model = self.line.model
        most_pa = self.edges[0][0] if self.edges else math.inf
        usual = dict.fromkeys(model.sources.get(self.item.id, ()), role.usual.si)
        told = []
        for asked, least in found:
            state = solve(model.system, Conditions(asked.opened, self.others_pa, usual))
            needed_pa = math.inf
            if least.state is not None and least.pressure_pa < math.inf:
                needed_pa = least.state.pressures_pa.get(node, math.inf)
            usual_pa = state.pressures_pa.get(node, 0.0)
            told.append(Expected(asked.case, needed_pa, usual_pa, _past(model, state.flows, node)))
        return Arrival(
            node=node,
            behind=behind.name,
            item=behind.id,
            filtered=behind is not self.item,
            greatest_pa=self.rest.pressure_pa(node, most_pa) if most_pa < math.inf else math.inf,
            usual_pa=self.rest.pressure_pa(node, role.usual.si),
            open=tuple(told),
        )


def _past(model: Model, flows: dict[Key, float], node: Node) -> float:
    """Flow that leaves a node along its tubes."""
    ends = [(key, a, b) for key, (a, b, _) in model.sketch.lines.items()]
    given = sum(flows.get(key, 0.0) for key, a, _ in ends if a == node and key in model.links)
    taken = sum(flows.get(key, 0.0) for key, _, b in ends if b == node and key in model.links)
    return max(abs(given), abs(taken))


def edge_of(edges: Sequence[tuple[float, Limit]]) -> WindowEdge | None:
    """The upper edge of a window: the first limit to be broken."""
    if not edges:
        return None
    pressure_pa, limit = edges[0]
    return WindowEdge(pressure_pa, limit.name, limit.item, limit.port, limit.run)


def _lower_edge(needs: Iterable[Need]) -> WindowEdge | None:
    counting = [one for one in needs if one.counts and 0.0 < one.least_pa < math.inf]
    if not counting:
        return None
    most = max(counting, key=lambda one: one.least_pa)
    return WindowEdge(most.least_pa, most.name, most.item, most.port, case=most.case)


def supplies(line: Line) -> Iterator[Supply]:
    """The pumps and mains taps of a line."""
    model = line.model
    for pump in model.pumps:
        yield Supply(line, pump.item, pump.role, (pump.outlet,))
    for item_id, keys in model.sources.items():
        item = line.items[item_id]
        role = item.specification.water
        if isinstance(role, Mains):
            # A key is the outlet itself, or the far end of the pipe behind it.
            nodes = [(item_id, str(key[1])) for key in keys if isinstance(key, tuple)]
            yield Supply(line, item, role, nodes)
