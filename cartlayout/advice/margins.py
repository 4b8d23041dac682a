"""How much the taps of a supply have to spare, and what falls short first."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from ..units import Phrase, Value
from ..water.results import Tap, TapState, WaterResult
from ..water.supply_results import Need, SupplyWindow, TubeStatic

_SLACK_PA = 20.0
_LEAST_PA = 1e4
"""What a tap is taken to need at least, where a share of next to nothing would say nothing."""


@dataclass(frozen=True, slots=True)
class Margin:
    """How much is to spare, and where it is least."""

    share: float
    """Of what is needed or allowed; below zero where it falls short."""
    spare: float
    """The same in pascals or in m3/s."""
    name: str
    """Of the tap, or of the tube, where it is least."""
    case: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """The taps of one supply over the cases that count."""

    pressure: Margin | None
    """At the supply's outlet with water flowing, over what the case needs there."""
    static: Margin | None
    """At rest, under what taps and tubes may see."""
    fault: Phrase | None
    """What falls short first; None where nothing does."""


def judge(water: WaterResult, window: SupplyWindow, tubes: dict[str, str]) -> Judged:
    """Hold every tap of a supply against its maker's window, in every case that counts.

    Args:
        water: of the build that is tried.
        window: of the supply: says which taps hang on it, and which cases count.
        tubes: id of each tube to its name.
    """
    cases = [need.case for need in window.needs if need.counts]
    nodes = {node for need in window.needs for node in need.taps}
    taps = [tap for tap in water.taps if (tap.item, tap.port) in nodes]
    flowing = [
        (tap, name, state)
        for name in cases
        for tap in taps
        if (state := tap.states.get(name)) is not None and state.open
    ]
    return Judged(
        pressure=_least(_pressure(need) for need in window.needs if need.counts),
        static=_least([*map(_static, taps), *_rated(water.statics, tubes)]),
        fault=_fault(water, taps, flowing, tubes),
    )


def _least(margins: Iterable[Margin]) -> Margin | None:
    return min(margins, key=lambda one: one.share, default=None)


def _pressure(need: Need) -> Margin:
    if need.least_pa == math.inf:
        return Margin(-1.0, -need.given_pa, need.name, need.case)
    spare = need.given_pa - need.least_pa
    return Margin(spare / max(need.least_pa, _LEAST_PA), spare, need.name, need.case)


def _static(tap: Tap) -> Margin:
    spare = tap.greatest_pa - tap.static_pa
    return Margin(spare / max(tap.greatest_pa, _LEAST_PA), spare, tap.name)


def _rated(statics: Iterable[TubeStatic], tubes: dict[str, str]) -> Iterable[Margin]:
    for one in statics:
        if one.rating_pa is not None:
            spare = one.rating_pa - one.highest_pa
            share = spare / max(one.rating_pa, _LEAST_PA)
            yield Margin(share, spare, tubes.get(one.run, one.run))


def _fault(
    water: WaterResult,
    taps: list[Tap],
    flowing: list[tuple[Tap, str, TapState]],
    tubes: dict[str, str],
) -> Phrase | None:
    """In a few words, what is wrong: too much before too little, pressure before flow."""
    unfed = next((tap for tap in taps if not tap.fed), None)
    if unfed is not None:
        return Phrase.of("{tap} gets no water", tap=unfed.name)
    over = [tap for tap in taps if tap.static_pa > tap.greatest_pa + _SLACK_PA]
    if over:
        worst = max(over, key=lambda tap: tap.static_pa - tap.greatest_pa)
        return Phrase.of(
            "{tap} can see {static}, at most {greatest} is allowed",
            tap=worst.name,
            static=Value(worst.static_pa, "pressure"),
            greatest=Value(worst.greatest_pa, "pressure"),
        )
    for one in water.statics:
        if one.rating_pa is not None and one.highest_pa > one.rating_pa + _SLACK_PA:
            return Phrase.of(
                "{tube} sees {static}, rated {rating}",
                tube=tubes.get(one.run, one.run),
                static=Value(one.highest_pa, "pressure"),
                rating=Value(one.rating_pa, "pressure"),
            )
    return _too_little(flowing)


def _too_little(flowing: list[tuple[Tap, str, TapState]]) -> Phrase | None:
    never = [tap for tap, _, _ in flowing if 0.0 < tap.static_pa < tap.least_pa - _SLACK_PA]
    if never:
        worst = max(never, key=lambda tap: tap.least_pa - tap.static_pa)
        return Phrase.of(
            "{tap} needs {least}, its line never reaches more than {static}",
            tap=worst.name,
            least=Value(worst.least_pa, "pressure"),
            static=Value(worst.static_pa, "pressure"),
        )
    worst_share, found = math.inf, None
    for tap, case, state in flowing:
        low = state.lowest_pa - tap.least_pa < -_SLACK_PA
        if not low and state.flow_ok:
            continue
        shares = [1.0]
        if low:
            shares.append(state.lowest_pa / max(tap.least_pa, _LEAST_PA))
        if not state.flow_ok and tap.required_flow > 0.0:
            shares.append(state.flow / tap.required_flow)
        if min(shares) < worst_share:
            worst_share, found = min(shares), (tap, case, state)
    if found is None:
        return None
    tap, case, state = found
    if not state.flow_ok:
        return Phrase.of(
            "{tap} gets {flow} of {needed} ({case})",
            tap=tap.name,
            flow=Value(state.flow, "flow"),
            needed=Value(tap.required_flow, "flow"),
            case=case,
        )
    return Phrase.of(
        "{tap} is left with {pressure}, needs {least} ({case})",
        tap=tap.name,
        pressure=Value(state.lowest_pa, "pressure"),
        least=Value(tap.least_pa, "pressure"),
        case=case,
    )
