"""The body side of the analysis as JSON; the keys are told in `json_report`."""

from dataclasses import asdict
from typing import Any

from ..body.results import Balance, BodyResult, PassageResult


def body_json(body: BodyResult) -> dict[str, Any]:
    """What the body side computed, SI units throughout."""
    return {
        "full": _balance(body.full),
        "empty": _balance(body.empty),
        "worst": _balance(body.worst),
        "path": [_balance(one) for one in body.path],
        "tilts": [
            {
                "edge": one.edge,
                "full_deg": one.full_deg,
                "empty_deg": one.empty_deg,
                "worst_deg": one.worst_deg,
            }
            for one in body.tilts
        ],
        "feet": asdict(body.feet) if body.feet is not None else None,
        "pushes": [asdict(one) for one in body.pushes],
        "travel": asdict(body.travel) if body.travel is not None else None,
        "passages": [_passage(one) for one in body.passages],
        "reaches": [{"item": one.item, "depth_m": one.depth_m} for one in body.reaches],
        "drips": [{"wet": one.wet, "live": one.live, "shield": one.shield} for one in body.drips],
        "levels": [
            {**asdict(one), "free_share": one.free_share, "open_share": one.open_share}
            for one in body.rooms
        ],
        "lifts": [asdict(one) for one in body.lifts],
        "leaves": [asdict(one) for one in body.leaves],
        "counter_m": body.counter_m,
    }


def _balance(state: Balance | None) -> dict[str, Any] | None:
    if state is None:
        return None
    return {
        "mass_kg": state.mass_kg,
        "x_m": state.x_m,
        "y_m": state.y_m,
        "z_m": state.z_m,
        "tilt_deg": state.tilt_deg,
        "edge": state.edge,
        "filled": {one.item: one.share for one in state.fills},
    }


def _passage(one: PassageResult) -> dict[str, Any]:
    return {
        "name": one.name,
        "kind": one.kind,
        "way": one.way,
        "passes": one.passes,
        "checks": [asdict(check) for check in one.checks],
    }
