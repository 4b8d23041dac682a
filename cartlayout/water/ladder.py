"""Who eats the pressure on the way from the source to a tap."""

from collections.abc import Mapping

from .hydraulics import Key, State
from .model import Model, TapPlace
from .results import LadderStep


class Ways:
    """The links at every node of a model, to be followed upstream."""

    def __init__(self, model: Model, names: Mapping[str, str]) -> None:
        self.model = model
        self.names = names
        """Of items and runs by id."""
        self._at: dict[Key, list[tuple[Key, Key, Key, float]]] = {}
        sketch = model.sketch
        for key, a, b in sketch.links():
            self._at.setdefault(sketch.root(b), []).append((key, a, b, 1.0))
            self._at.setdefault(sketch.root(a), []).append((key, b, a, -1.0))

    def ladder(self, tap: TapPlace, state: State) -> tuple[LadderStep, ...]:
        """Steps from the source to a tap, in the order the water takes; none without flow."""
        steps = self.way(tap, state)
        return self._told(steps, state) if steps else ()

    def way(self, tap: TapPlace, state: State) -> list[tuple[Key, Key, Key]]:
        """Links from the source to a tap with their ends, in the order the water takes.

        At every junction the way with the greatest inflow is followed. Empty
        where nothing flows to the tap.
        """
        root = self.model.sketch.root
        steps: list[tuple[Key, Key, Key]] = []
        node, seen = root(tap.node), {root(tap.node)}
        while True:
            inflow, way = 0.0, None
            for link, before, after, sign in self._at.get(node, ()):
                flow = sign * state.flows.get(link, 0.0)
                if flow > inflow and root(before) not in seen:
                    inflow, way = flow, (link, before, after)
            if way is None:
                break
            steps.append(way)
            node = root(way[1])
            seen.add(node)
        return steps[::-1]

    def _told(self, steps: list[tuple[Key, Key, Key]], state: State) -> tuple[LadderStep, ...]:
        pressures = state.pressures_pa
        start = steps[0][1]
        source = _item_of(start)
        told = [LadderStep(self.names.get(source, source), source, pressures[start], 0.0)]
        before_pa = pressures[start]
        for link, _, after in steps:
            after_pa = pressures[after]
            kind, ident = self.model.links[link]
            loss_pa = before_pa - after_pa
            before_pa = after_pa
            last = told[-1]
            if kind == "item" and last.id == ident:
                # Two halves of one fitting, or a mains tap and the pipe behind it.
                told[-1] = LadderStep(last.name, ident, after_pa, last.loss_pa + loss_pa)
                continue
            name = self.names.get(ident, ident)
            if kind == "run":
                target = _item_of(after)
                name = f"{name} to {self.names.get(target, target)}"
            told.append(LadderStep(name, ident, after_pa, loss_pa))
        return tuple(told)


def _item_of(node: Key) -> str:
    """Item id of a node: every node of a model is a tuple that starts with it."""
    return str(node[0]) if isinstance(node, tuple) else str(node)
