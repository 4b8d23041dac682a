"""Waste water, and water over the day, as JSON."""

from typing import Any

from ..water.drain_results import DrainState
from ..water.results import WaterBalance, WaterResult
from .json_numbers import finite


def waste_json(water: WaterResult) -> dict[str, Any]:
    """`drains`, `drain_pumps`, `air_gaps` and `balance`; numbers without end are null."""
    return {
        "drains": [_drain(one) for one in water.drains],
        "drain_pumps": [
            {
                "item": one.item,
                "run": one.run,
                "lift_m": one.lift_m,
                "greatest_lift_m": finite(one.greatest_lift_m),
                "flow_m3_s": one.flow,
                "arriving_m3_s": one.arriving,
                "fills_s": finite(one.fills_s),
                "starts_per_hour": finite(one.starts_per_hour),
            }
            for one in water.drain_pumps
        ],
        "air_gaps": [
            {
                "item": one.item,
                "bore_m": one.bore_m,
                "needed_m": one.needed_m,
                "given_m": one.given_m,
                "source": one.source,
            }
            for one in water.air_gaps
        ],
        "balance": None if water.balance is None else _balance(water.balance),
    }


def _drain(one: DrainState) -> dict[str, Any]:
    return {
        "run": one.run,
        "from": one.start[0],
        "to": one.end[0],
        "serves": list(one.serves),
        "pumped": one.pumped,
        "fall_m": one.fall_m,
        "slope": finite(one.slope),
        "asked_slope": one.asked_slope,
        "low_points": [
            {
                "at_m": list(low.at),
                "along_m": low.along_m,
                "rise_m": low.rise_m,
                "blocked": low.blocked,
                "sealed": low.sealed,
            }
            for low in one.low_points
        ],
        "bore_m": one.bore_m,
        "half_full_m3_s": finite(one.half_full),
        "full_m3_s": finite(one.full),
        "advisory": one.advisory,
        "arriving_m3_s": one.arriving,
        "backs_up_m": one.backs_up_m,
    }


def _balance(balance: WaterBalance) -> dict[str, Any]:
    return {
        "fresh_m3": balance.fresh,
        "waste_m3": balance.waste,
        "waste_needed_m3": balance.waste_needed,
        "to_drain": balance.to_drain,
        "fresh_per_day_m3": balance.fresh_per_day,
        "waste_per_day_m3": balance.waste_per_day,
        "shares": [
            {
                "name": one.name,
                "kind": one.kind,
                "per_day_m3": one.per_day,
                "items": list(one.items),
                "into": list(one.into),
            }
            for one in balance.shares
        ],
        "vessels": [
            {
                "items": list(one.items),
                "kind": one.kind,
                "volume_m3": one.volume,
                "per_day_m3": one.per_day,
                "lasts_s": finite(one.lasts_s),
                "drinks": finite(one.drinks),
                "visits": one.visits,
            }
            for one in balance.vessels
        ],
    }
