"""Workings of a pump's suction side: how high it lifts, what head is left at its inlet."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Pump, Tank
from ..units import Phrase, Value
from ..water.properties import Fluid, water
from ..water.pump_results import Suction
from .model import Held, Number, Step, Working
from .water_parts import cited, density, gravity, origin, step, symbol, temperature_k

_LIFT = ("greatest lift", "lift", "curve")


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Lift and head of each pump that draws from a tank."""
    for suction in analysis.water.suctions:
        yield Number("suction", suction.pump, "lift")
        yield Number("suction", suction.pump, "head")


def working(analysis: Analysis, number: Number) -> Working | None:
    """Lift or head of one pump."""
    suction = next((one for one in analysis.water.suctions if one.pump == number.of), None)
    if suction is None:
        return None
    if number.what == "lift":
        return _lift(analysis, suction, number)
    return _head(analysis, suction, number) if number.what == "head" else None


def _name(analysis: Analysis, item_id: str) -> str:
    item = analysis.build.item(item_id)
    return item.name if item is not None else item_id


def _lift(analysis: Analysis, suction: Suction, number: Number) -> Working | None:
    tank = analysis.build.item(suction.tank)
    pump = analysis.build.item(suction.pump)
    role = tank.specification.water if tank is not None else None
    if tank is None or pump is None or not isinstance(role, Tank):
        return None
    pick_up_m = max(role.pick_up.si, 0.0)
    lift = step(
        "from the last water that can be drawn",
        "h",
        "z_pump - z_tank - z_pick",
        (
            symbol(
                "z_pump",
                "height of its inlet over the tank's underside",
                suction.last_lift_m + pick_up_m,
                "distance",
            ),
            symbol("z_tank", "the tank's underside", 0.0, "distance"),
            symbol("z_pick", f"pick-up in {tank.name}, above that", pick_up_m, "distance"),
        ),
        suction.last_lift_m,
        "distance",
    )
    basis = cited(pump, *_LIFT)
    here = suction.lift_here_m
    return Working(
        number,
        Phrase.of("How high {pump} lifts", pump=pump.name),
        lift.result,
        (lift,),
        (
            Held(
                Value(suction.greatest_lift_m, "distance"),
                "greatest lift its maker allows, of cold water at sea level",
                basis,
                suction.last_lift_m <= suction.greatest_lift_m,
            ),
            Held(
                Value(here, "distance"),
                "the same under the air of this place, over water as warm as this",
                "in proportion to air pressure less vapour pressure",
                suction.last_lift_m <= here,
            ),
        ),
        notes=(Phrase.of("Below zero: the water runs in by itself."),),
    )


def _head(analysis: Analysis, suction: Suction, number: Number) -> Working:
    build = analysis.build
    fluid: Fluid = water(temperature_k(analysis), build.venue.altitude_m)
    pump = build.item(suction.pump)
    role = pump.specification.water if pump is not None else None
    required = role.net_suction_head if isinstance(role, Pump) else None
    made = step(
        "net positive suction head available",
        "NPSH",
        "(p_air - p_vap - Delta_p)/(rho*g) - h",
        (
            symbol(
                "p_air",
                "air here, absolute",
                fluid.air_pa,
                "pressure",
                "standard atmosphere, ISO 2533",
            ),
            symbol(
                "p_vap",
                "the water's own vapour, absolute",
                fluid.vapour_pa,
                "pressure",
                "IAPWS SR1-86",
            ),
            symbol(
                "Delta_p",
                "what the suction line takes at the greatest flow of any case",
                suction.loss_pa,
                "pressure",
            ),
            density(fluid, temperature_k(analysis)),
            gravity(),
            symbol(
                "h",
                "lift from the last water that can be drawn",
                suction.last_lift_m,
                "distance",
                number=Number("suction", suction.pump, "lift"),
            ),
        ),
        suction.available_m,
        "distance",
    )
    flow = Step("greatest flow through it in any case", "Q", "", (), Value(suction.flow, "flow"))
    held: tuple[Held, ...] = ()
    if required is not None:
        held = (
            Held(
                Value(required.si, "distance"),
                "net positive suction head it requires",
                origin(pump, *_LIFT)[0],
                suction.available_m >= required.si,
                is_least=True,
            ),
        )
    return Working(
        number,
        Phrase.of("Suction head at {pump}", pump=_name(analysis, suction.pump)),
        made.result,
        (flow, made),
        held,
    )
