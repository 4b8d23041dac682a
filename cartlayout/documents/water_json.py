"""The water side as JSON. Keys carry their unit; numbers without end are null.

taps: `item`, `port`, `name`, `fed`, `least_pa`, `greatest_pa`,
`required_flow_m3_s`, `static_pa`, `temperature_k`, `states` (case name to `open`,
`pressure_pa`, `lowest_pa`, `highest_pa`, `flow_m3_s`, `pressure_ok`, `flow_ok`), `ladder`
(`name`, `id`, `pressure_pa`, `loss_pa`), `assumed`, `robbed` (`by`, `case`, `alone_pa`,
`pressure_pa`, `alone_flow_m3_s`, `flow_m3_s`, `fails`).

water: `supplies` (`item`, `name`, `kind`, `flow_m3_s`, `flow_taps`, `least`, `greatest`
(`pressure_pa`, `name`, `item`, `run`), `low_pa`, `high_pa`, `known`, `open`, `hit`,
`regulators`, `arrival`), `pumps`, `suctions`, `surges`, `heaters`, `filters`, `regulators`,
`tubes` (`run`, `highest_pa`, `rating_pa`, `temperature_k`, `fastest_m_s`), `drains`,
`drain_pumps`, `air_gaps`, `balance`, `gauges` (`item`, `readings`: `case`, `low_pa`, `high_pa`,
`read_pa`, `off`).
"""

from typing import Any

from ..water.results import Tap, WaterResult
from ..water.supply_results import Robbed, SupplyWindow, WindowEdge
from .gauge_lines import gauges_json
from .json_numbers import finite
from .water_waste_json import waste_json


def taps_json(water: WaterResult) -> list[dict[str, Any]]:
    """Every tap in every case."""
    return [_tap(tap, water.robbed(tap.item, tap.port)) for tap in water.taps]


def water_json(water: WaterResult) -> dict[str, Any]:
    """Everything but the taps."""
    return {
        "supplies": [_window(one) for one in water.windows],
        "pumps": _pumps(water),
        "suctions": _suctions(water),
        "surges": _surges(water),
        **_elements(water),
        "tubes": _tubes(water),
        "gauges": gauges_json(water),
        **waste_json(water),
    }


def _tap(tap: Tap, robbed: tuple[Robbed, ...]) -> dict[str, Any]:
    return {
        "item": tap.item,
        "port": tap.port,
        "name": tap.name,
        "fed": tap.fed,
        "least_pa": tap.least_pa,
        "greatest_pa": finite(tap.greatest_pa),
        "required_flow_m3_s": tap.required_flow,
        "static_pa": tap.static_pa,
        "temperature_k": tap.temperature_k,
        "states": {
            case: {
                "open": state.open,
                "pressure_pa": state.pressure_pa,
                "lowest_pa": state.lowest_pa,
                "highest_pa": state.highest_pa,
                "flow_m3_s": state.flow,
                "pressure_ok": state.pressure_ok,
                "flow_ok": state.flow_ok,
            }
            for case, state in tap.states.items()
        },
        "ladder": [
            {
                "name": step.name,
                "id": step.id,
                "pressure_pa": step.pressure_pa,
                "loss_pa": step.loss_pa,
            }
            for step in tap.ladder
        ],
        "assumed": tap.assumed,
        "robbed": [
            {
                "by": [{"item": by.item, "port": by.port, "name": by.name} for by in one.by],
                "case": one.case,
                "alone_pa": one.alone_pa,
                "pressure_pa": one.pressure_pa,
                "alone_flow_m3_s": one.alone_flow,
                "flow_m3_s": one.flow,
                "fails": one.fails,
            }
            for one in robbed
        ],
    }


def _edge(edge: WindowEdge | None) -> dict[str, Any] | None:
    if edge is None:
        return None
    return {
        "pressure_pa": finite(edge.pressure_pa),
        "name": edge.name,
        "item": edge.item,
        "run": edge.run,
    }


def _window(window: SupplyWindow) -> dict[str, Any]:
    arrival = window.arrival
    return {
        "item": window.item,
        "name": window.name,
        "kind": window.kind,
        "flow_m3_s": window.flow,
        "flow_taps": list(window.flow_taps),
        "least": _edge(window.least),
        "greatest": _edge(window.greatest),
        "low_pa": window.low_pa,
        "high_pa": window.high_pa,
        "known": window.known,
        "open": window.is_open,
        "hit": window.is_hit,
        "regulators": [
            {
                "item": one.item,
                "port": one.port,
                "name": one.name,
                "set_point_pa": one.set_point_pa,
                "least_pa": one.least_pa,
                "greatest_pa": finite(one.greatest_pa),
                "regulator": one.regulator,
            }
            for one in window.set_points
        ],
        "arrival": None
        if arrival is None
        else {
            "behind": arrival.behind,
            "filtered": arrival.filtered,
            "greatest_pa": finite(arrival.greatest_pa),
            "usual_pa": finite(arrival.usual_pa),
            "open": [
                {
                    "case": one.case,
                    "least_pa": finite(one.least_pa),
                    "usual_pa": finite(one.usual_pa),
                    "flow_m3_s": one.flow,
                }
                for one in arrival.open
            ],
        },
    }


def _pumps(water: WaterResult) -> list[dict[str, Any]]:
    return [
        {
            "item": duty.item,
            "accumulator": duty.accumulator,
            "pre_charge_pa": duty.pre_charge_pa,
            "cut_in_pa": duty.cut_in_pa,
            "cut_out_pa": duty.cut_out_pa,
            "useful_volume_m3": duty.useful_volume,
            "reaches_cut_out": duty.reaches_cut_out,
            "shortest_run_s": finite(duty.shortest_run_s),
            "most_starts_per_hour": finite(duty.most_starts_per_hour),
            "service_starts_per_hour": finite(duty.service_starts_per_hour),
            "cases": [
                {
                    "case": point.case,
                    "demand_m3_s": point.demand,
                    "cycles": point.cycles,
                    "points": [
                        {"flow_m3_s": flow, "added_pa": added} for flow, added in point.ends
                    ],
                    "current_a": point.current_a,
                    "starts_per_hour": finite(point.starts_per_hour),
                    "starts_per_hour_without_accumulator": finite(point.bare_starts_per_hour),
                    "share_on": finite(point.share_on),
                }
                for point in duty.points
            ],
            "swings": [
                {
                    "item": one.item,
                    "port": one.port,
                    "high_pa": one.high_pa,
                    "low_pa": one.low_pa,
                    "fall_s": finite(one.fall_s),
                    "fall_s_without_accumulator": finite(one.bare_fall_s),
                }
                for one in duty.swings
            ],
        }
        for duty in water.duties
    ]


def _suctions(water: WaterResult) -> list[dict[str, Any]]:
    return [
        {
            "pump": one.pump,
            "tank": one.tank,
            "lift_m": one.lift_m,
            "last_lift_m": one.last_lift_m,
            "greatest_lift_m": finite(one.greatest_lift_m),
            "loss_pa": one.loss_pa,
            "available_m": finite(one.available_m),
            "required_m": one.required_m,
            "foot_valve": one.foot_valve,
            "primed": one.primed,
            "left_behind_m3": one.left_behind,
        }
        for one in water.suctions
    ]


def _surges(water: WaterResult) -> list[dict[str, Any]]:
    return [
        {
            "item": one.item,
            "port": one.port,
            "run": one.run,
            "closing_s": one.closing_s,
            "assumed": one.assumed,
            "bound_pa": finite(one.bound_pa),
            "rise_pa": finite(one.rise_pa),
            "static_pa": one.static_pa,
            "rating_pa": one.rating_pa,
        }
        for one in water.surges
    ]


def _elements(water: WaterResult) -> dict[str, Any]:
    return {
        "heaters": [
            {
                "item": one.item,
                "outlet_k": one.outlet_k,
                "static_pa": one.static_pa,
                "switches_on": {point.case: point.switches_on for point in one.points},
            }
            for one in water.heaters
        ],
        "filters": [
            {
                "item": one.item,
                "rated_flow_m3_s": one.rated_flow,
                "flow_m3_s": one.flow,
                "case": one.case,
                "loss_pa": one.loss_pa,
                "left_m3": finite(one.left),
                "days_left": finite(one.days_left),
            }
            for one in water.filters
        ],
        "regulators": [
            {
                "item": one.item,
                "set_pa": one.set_pa,
                "flow_m3_s": one.flow,
                "outlet_pa": one.outlet_pa,
                "shut_pa": one.shut_pa,
                "holds": one.holds,
            }
            for one in water.regulators
        ],
    }


def _tubes(water: WaterResult) -> list[dict[str, Any]]:
    return [
        {
            "run": one.run,
            "highest_pa": one.highest_pa,
            "rating_pa": one.rating_pa,
            "temperature_k": one.temperature_k,
            "too_hot": one.too_hot,
            "fastest_m_s": water.fastest.get(one.run),
        }
        for one in water.statics
    ]
