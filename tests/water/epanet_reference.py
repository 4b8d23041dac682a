"""A second engine for the same networks: EPANET 2.3 in memory, through owa-epanet.

EPANET computes heads in metres and flows in m3/h here. Its viscosity is set to ours, its
friction is Hagen-Poiseuille below Re 2000, Swamee-Jain above 4000 and a cubic between.
"""

import os
from dataclasses import dataclass, field

from epanet import toolkit as en

from cartlayout.water.properties import Fluid

M3_H = 1.0 / 3600.0
_REFERENCE_VISCOSITY = 1.1e-5 * 0.3048**2
"""m2/s; EPANET's viscosity is relative to this one."""


@dataclass
class Epanet:
    """One network; close it after use."""

    fluid: Fluid
    project: object = field(init=False)

    def __post_init__(self) -> None:
        self.project = en.createproject()
        en.init(self.project, os.devnull, "", en.CMH, en.DW)
        kinematic = self.fluid.viscosity_pa_s / self.fluid.density_kg_m3
        en.setoption(self.project, en.SP_VISCOS, kinematic / _REFERENCE_VISCOSITY)
        en.setoption(self.project, en.ACCURACY, 1e-7)
        en.setoption(self.project, en.TRIALS, 500)
        en.setoption(self.project, en.EMITEXPON, 0.5)

    def __enter__(self) -> "Epanet":
        return self

    def __exit__(self, *_: object) -> None:
        en.deleteproject(self.project)

    def fix(self, name: str, height_m: float, pressure_pa: float = 0.0) -> None:
        at = en.addnode(self.project, name, en.RESERVOIR)
        en.setnodevalue(
            self.project, at, en.ELEVATION, height_m + pressure_pa / self.fluid.head_pa(1.0)
        )

    def node(self, name: str, height_m: float = 0.0, demand: float = 0.0) -> None:
        at = en.addnode(self.project, name, en.JUNCTION)
        en.setjuncdata(self.project, at, height_m, demand / M3_H, "")

    def emitter(self, name: str, flow: float, pressure_pa: float) -> None:
        """An opening rated at a flow [m3/s] and a pressure [Pa]."""
        at = en.getnodeindex(self.project, name)
        head = pressure_pa / self.fluid.head_pa(1.0)
        en.setnodevalue(self.project, at, en.EMITTER, flow / M3_H / head**0.5)

    def pipe(
        self,
        name: str,
        a: str,
        b: str,
        length_m: float,
        bore_m: float,
        roughness_m: float = 1.5e-6,
        minor: float = 0.0,
        one_way: bool = False,
    ) -> None:
        kind = en.CVPIPE if one_way else en.PIPE
        at = en.addlink(self.project, name, kind, a, b)
        en.setpipedata(self.project, at, length_m, bore_m * 1e3, roughness_m * 1e3, minor)

    def pump(self, name: str, a: str, b: str, rows: list[tuple[float, float]]) -> None:
        """Rows of pressure [Pa] and flow [m3/s]; straight lines between them."""
        at = en.addlink(self.project, name, en.PUMP, a, b)
        curve = f"curve-{name}"
        en.addcurve(self.project, curve)
        number = en.getcurveindex(self.project, curve)
        ordered = sorted((flow, pressure) for pressure, flow in rows)
        for place, (flow, pressure) in enumerate(ordered, 1):
            head = pressure / self.fluid.head_pa(1.0)
            en.setcurvevalue(self.project, number, place, flow / M3_H, head)
        en.setlinkvalue(self.project, at, en.PUMP_HCURVE, number)

    def regulator(self, name: str, a: str, b: str, set_pa: float) -> None:
        """A valve that holds a gauge pressure behind it; 12 mm bore, no loss of its own."""
        at = en.addlink(self.project, name, en.PRV, a, b)
        en.setlinkvalue(self.project, at, en.DIAMETER, 12.0)
        en.setlinkvalue(self.project, at, en.INITSETTING, set_pa / self.fluid.head_pa(1.0))

    def solve(self) -> tuple[dict[str, float], dict[str, float]]:
        """Gauge pressures [Pa] by node and flows [m3/s] by link."""
        en.openH(self.project)
        en.initH(self.project, en.NOSAVE)
        en.runH(self.project)
        pressures, flows = {}, {}
        for at in range(1, en.getcount(self.project, en.NODECOUNT) + 1):
            head = en.getnodevalue(self.project, at, en.HEAD)
            rise = en.getnodevalue(self.project, at, en.ELEVATION)
            name = en.getnodeid(self.project, at)
            pressures[name] = self.fluid.head_pa(head - rise)
        for at in range(1, en.getcount(self.project, en.LINKCOUNT) + 1):
            flow = en.getlinkvalue(self.project, at, en.FLOW)
            flows[en.getlinkid(self.project, at)] = flow * M3_H
        en.closeH(self.project)
        return pressures, flows
