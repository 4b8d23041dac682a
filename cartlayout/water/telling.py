"""What an island does in one case, in the items and tubes of the build."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from ..build import TubeRun
from ..network.results import Node
from .cases import Solved
from .hydraulics import Characteristic, Key, State
from .model import Model
from .results import RunState


@dataclass(frozen=True, slots=True)
class Told:
    """An island in one case: at rest the greatest pressures, with water flowing the least."""

    pressures_pa: dict[Node, float] = field(default_factory=dict)
    runs: dict[str, RunState] = field(default_factory=dict)
    source_flow: dict[str, float] = field(default_factory=dict)

    def alike(self, other: "Told") -> bool:
        """Whether the same places, tubes and sources are told of."""
        return (
            self.pressures_pa.keys() == other.pressures_pa.keys()
            and self.runs.keys() == other.runs.keys()
            and self.source_flow.keys() == other.source_flow.keys()
        )


class Teller:
    """Puts solutions of a model into items and tubes."""

    def __init__(self, model: Model, tubes: Iterable[TubeRun]) -> None:
        self._pumps = tuple(pump.item.id for pump in model.pumps)
        self._bores = [
            (run.id, 0.25 * math.pi * run.tube.bore.si**2, model.sketch.lines[run.id][2])
            for run in tubes
            if run.id in model.sketch.lines
        ]
        self._leaving = _ways_out(model)

    def told(self, solved: Solved) -> Told:
        """Nothing where it did not converge."""
        state = solved.low
        if not (state.converged and solved.high.converged):
            return Told()
        return Told(
            pressures_pa={
                key: pressure_pa
                for key, pressure_pa in state.pressures_pa.items()
                if isinstance(key, tuple) and len(key) == 2  # no far end of a service pipe
            },
            runs={
                run_id: _run_state(state.flows.get(run_id, 0.0), area_m2, characteristic)
                for run_id, area_m2, characteristic in self._bores
            },
            source_flow=self._given(state),
        )

    def _given(self, state: State) -> dict[str, float]:
        """What each source and each pump gives."""
        flows = state.flows
        given = {
            item: sum(sign * flows.get(key, 0.0) for key, sign in leaving)
            for item, leaving in self._leaving.items()
        }
        return given | {pump: flows.get(pump, 0.0) for pump in self._pumps}


def _ways_out(model: Model) -> dict[str, list[tuple[Key, float]]]:
    """Links and taps at the nodes of every source, with the sign that means outwards."""
    sketch = model.sketch
    root = sketch.root
    owner = {root(key): item for item, keys in model.sources.items() for key in keys}
    leaving: dict[str, list[tuple[Key, float]]] = {item: [] for item in owner.values()}
    for key, a, b in sketch.links():
        for node, sign in ((root(a), 1.0), (root(b), -1.0)):
            if node in owner:
                leaving[owner[node]].append((key, sign))
    for tap in model.taps:
        if root(tap.node) in owner:
            leaving[owner[root(tap.node)]].append((tap.node, 1.0))
    return leaving


def _run_state(flow: float, area_m2: float, characteristic: Characteristic) -> RunState:
    if flow == 0.0:
        return RunState(0.0, 0.0, 0.0)
    return RunState(flow, abs(flow) / area_m2, abs(characteristic.loss(flow)[0]))
