"""Symbols and words of what water runs through, for the one-line diagrams."""

from ...analysis import Analysis
from ...build import (
    Accumulator,
    Appliance,
    Basin,
    CheckValve,
    Drain,
    DrainPump,
    Filter,
    Fitting,
    Gauge,
    Heater,
    Item,
    Mains,
    Pump,
    Regulator,
    ShutOff,
    Tank,
    TubeRun,
)
from ...network.results import Node
from ...units import Pressure, UnitSystem, show, show_plain
from ...water.parts import laid_length_m
from ...water.results import ALL_OPEN, Tap, alone
from .model import Part, Symbol, Words

_SYMBOLS: dict[type, Symbol] = {
    Mains: "mains",
    Pump: "pump",
    Accumulator: "accumulator",
    Filter: "filter",
    Regulator: "regulator",
    CheckValve: "check valve",
    ShutOff: "shut-off",
    Heater: "heater",
    Gauge: "gauge",
    Basin: "basin",
    Drain: "floor drain",
    DrainPump: "pump",
}
_TEE_PORTS = 3


class WaterWords:
    """What is written at a part or along a tube, in somebody's units."""

    def __init__(self, analysis: Analysis, system: UnitSystem) -> None:
        self.analysis = analysis
        self.water = analysis.water
        self.system = system
        self.states = _states(analysis)

    def pressure(self, pressure: Pressure | float) -> str:
        """Such as "45.0 psi"."""
        pa = pressure if isinstance(pressure, float) else pressure.si
        return show(pa, "pressure", self.system)

    def between(self, low_pa: float, high_pa: float) -> str:
        """Such as "45.0 to 60.0 psi"."""
        return f"{show_plain(low_pa, 'pressure', self.system)} to {self.pressure(high_pa)}"

    def flow(self, flow: float) -> str:
        """Such as "1.35 gal/min"."""
        return show(flow, "flow", self.system)

    def height(self, *nodes: Node) -> str:
        """Of the lowest of some ports above the floor."""
        known = self.analysis.network.heights_m
        found = [known[node] for node in nodes if node in known]
        return f"at {show(min(found), 'length', self.system)}" if found else ""

    # --- tubes -----------------------------------------------------------------------------------

    def length(self, run: TubeRun) -> str:
        """Laid, what is to spare included."""
        route = self.analysis.network.routes.get(run.id)
        metres = laid_length_m(run, route.length_m if route is not None else 0.0)
        return show(metres, "distance", self.system)

    def bore(self, run: TubeRun) -> str:
        """Such as "0.250 in bore": finer than other lengths."""
        decimals = 3 if self.system is UnitSystem.US else 1
        return f"{show(run.tube.bore.si, 'length', self.system, decimals)} bore"

    # --- parts -----------------------------------------------------------------------------------

    def part(self, item: Item, nodes: tuple[Node, ...]) -> Part:
        """An item that is no tap.

        Args:
            item: of the water side.
            nodes: its ports that are in the diagram; the lowest of them gives its height.
        """
        role = item.specification.water
        lines = [item.name, *self._facts(item), self.height(*nodes)]
        symbol = self._symbol(item, len(nodes))
        if symbol == "tee":
            return Part(item.id, "tee", called=item.name)
        words = tuple(Words(line, 400 if at else 600) for at, line in enumerate(lines) if line)
        several = isinstance(role, (Fitting, Basin)) and symbol == "bar"
        return Part(item.id, symbol, words, self.states.get(item.id, ""), bar=several)

    def _symbol(self, item: Item, ports: int) -> Symbol:
        role = item.specification.water
        if isinstance(role, Tank):
            return "waste tank" if role.contents == "waste" else "tank"
        if isinstance(role, Fitting):
            own = sum(port.medium == "water" for port in item.specification.ports)
            return "tee" if own <= _TEE_PORTS else "bar"
        if isinstance(role, Basin) and ports > 2:
            return "bar"
        return _SYMBOLS.get(type(role), "load")

    def _facts(self, item: Item) -> list[str]:
        role = item.specification.water
        match role:
            case Tank():
                volume = show(role.volume.si, "volume", self.system)
                filled = f", {item.fill * 100:.0f} % full" if role.contents == "fresh" else ""
                return [volume + filled]
            case Mains():
                return self._mains(role)
            case Pump():
                return [f"on {show_plain(role.cut_in.si, 'pressure', self.system)}, "
                        f"off {self.pressure(role.cut_out)}"]  # fmt: skip
            case Accumulator():
                return [show(role.volume.si, "volume", self.system, 2),
                        f"pre-charge {self.pressure(role.pre_charge)}"]  # fmt: skip
            case Heater():
                return [f"heats to {show(role.outlet.si, 'temperature', self.system)}"]
            case Regulator():
                return [f"set to {self.pressure(role.set_point)}"]
            case DrainPump():
                return [f"lifts {show(role.lift.si, 'distance', self.system)} at most"]
            case Filter():
                return self._filter(item)
            case CheckValve() | ShutOff():
                return [_valve(role)]
        return []

    def _mains(self, role: Mains) -> list[str]:
        lines = [f"usual {self.pressure(role.usual)}"]
        if role.least is not None or role.greatest is not None:
            low = role.least if role.least is not None else role.usual
            high = role.greatest if role.greatest is not None else role.usual
            lines.append(self.between(low.si, high.si))
        return lines

    def _filter(self, item: Item) -> list[str]:
        state = next((one for one in self.water.filters if one.item == item.id), None)
        if state is None:
            return []
        flow = show_plain(state.flow, "flow", self.system)
        return [
            f"most {flow} of {self.flow(state.rated_flow)}",
            f"takes {self.pressure(state.loss_pa)}",
        ]

    # --- taps ------------------------------------------------------------------------------------

    def tap(self, tap: Tap, item: Item) -> Part:
        """One inlet of an appliance, with its pressures."""
        role = item.specification.water
        several = isinstance(role, Appliance) and len(role.inlets) > 1
        name = f"{tap.name}, {tap.port}" if several else tap.name
        if tap.temperature_k > self.analysis.build.venue.water_temperature.si + 0.5:
            name += f", {show(tap.temperature_k, 'temperature', self.system)}"
        lines = [name]
        if tap.fed:
            lines.append(f"asks {self.between(tap.least_pa, tap.greatest_pa)}, "
                         f"{self.flow(tap.required_flow)}")  # fmt: skip
            height = self.height((tap.item, tap.port))
            at_rest = f"at rest {self.pressure(tap.static_pa)}"
            lines.append(" · ".join(filter(None, (at_rest, height))))
            lines += self._tap_states(tap)
        else:
            lines += ["not fed", self.height((tap.item, tap.port))]
        words = tuple(Words(line, 400 if at else 600) for at, line in enumerate(lines) if line)
        return Part(f"{tap.item}.{tap.port}", "tap", words, tap_state(self.analysis, tap))

    def _tap_states(self, tap: Tap) -> list[str]:
        lines = []
        for label, case in (("alone", alone(tap.name)), ("all open", ALL_OPEN)):
            state = tap.states.get(case)
            if state is not None:
                lines.append(f"{label} {self.pressure(state.pressure_pa)}, {self.flow(state.flow)}")
        return lines


def _valve(role: CheckValve | ShutOff) -> str:
    if isinstance(role, CheckValve):
        if role.stuck_open:
            return "stuck open"
        return "vented double check" if role.vented else "one way"
    if not role.is_open:
        return "shut"
    return f"{role.closed_share * 100:.0f} % closed" if role.closed_share > 0.0 else "open"


_OF_TAPS = ("not-fed", "static", "never", "flow", "pressure", "together", "unconnected")


def tap_state(analysis: Analysis, tap: Tap) -> str:
    """Mark of a tap, by the worst that a finding says of it; none where everything holds.

    Of one that falls short without a finding of its own, because another tells of both, at least
    "care".
    """
    states = tap.states.values()
    fine = tap.static_pa <= tap.greatest_pa and all(
        one.pressure_ok and one.flow_ok for one in states
    )
    if tap.fed and fine:
        return ""
    codes = {f"water.{one}" for one in _OF_TAPS}
    said = {
        finding.severity
        for finding in analysis.findings
        if finding.code in codes and tap.item in finding.items
    }
    return "stop" if "stop" in said else "care"


def _states(analysis: Analysis) -> dict[str, str]:
    """Items and tubes to the worst that a finding about water says of them as its culprit."""
    found: dict[str, str] = {}
    for finding in analysis.findings:
        if not finding.code.startswith("water.") or finding.severity == "note":
            continue
        for key in (*finding.items[:1], *finding.runs[:1]):
            if found.get(key) != "stop":
                found[key] = finding.severity
    return found
