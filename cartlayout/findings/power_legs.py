"""Which load to put on the other leg."""

from ..build import Box, Generator
from ..power.results import EVERYTHING_ON, Circuit, CircuitLoad
from .power_words import PowerWords, amps_text


def better_leg(words: PowerWords, above: Circuit | str) -> str:
    """A sentence that names the load whose move to another leg evens them most, or nothing.

    Args:
        words: the build and its result.
        above: a circuit that feeds boxes, or the id of a generator.
    """
    below = _below(words, above)
    legs = sorted({leg for one in below for leg in one.legs})
    if len(legs) < 2:
        return ""
    amps = dict.fromkeys(legs, 0.0)
    for one in below:
        for leg in one.legs:
            amps[leg] += one.leg_amps.get(EVERYTHING_ON, {}).get(leg, 0.0)
    heavy = max(legs, key=lambda leg: amps[leg])
    light = min(legs, key=lambda leg: amps[leg])
    best: tuple[float, CircuitLoad] | None = None
    for one in below:
        if one.legs != (heavy,):
            continue
        for load in one.loads:
            peak = max(amps[heavy] - load.amps, amps[light] + load.amps)
            if peak < amps[heavy] and (best is None or peak < best[0]):
                best = (peak, load)
    if best is None:
        return ""
    load = best[1]
    return (
        f"Move {words.name(load.item)} to a receptacle on {light}: {heavy} then carries "
        f"{amps_text(amps[heavy] - load.amps)} and {light} {amps_text(amps[light] + load.amps)}."
    )


def _below(words: PowerWords, above: Circuit | str) -> list[Circuit]:
    if isinstance(above, str):
        return [one for one in words.power.circuits if above in one.items]
    return [
        one
        for one in words.power.circuits
        if one.parent == above.key and _has_branches(words, one.items)
    ]


def _has_branches(words: PowerWords, items: tuple[str, ...]) -> bool:
    return any(
        isinstance(words.items[one].specification.electrical, (Box, Generator)) for one in items
    )
