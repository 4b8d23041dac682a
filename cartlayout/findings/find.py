"""All rules, run over the results of one build."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from ..body.results import BodyResult
from ..build import Build, Item, Wire
from ..network.results import Network
from ..power.results import PowerResult
from ..water.results import WaterResult
from . import (
    body_rules,
    module_rules,
    network_rules,
    power_leakage,
    power_rules,
    route_rules,
    water_rules,
)
from .finding import Finding


@dataclass(frozen=True, slots=True)
class Said:
    """What one subject has to say, and all that it read to say so."""

    reads: tuple[Any, ...]
    findings: tuple[Finding, ...]


def find(
    build: Build, network: Network, power: PowerResult, water: WaterResult, body: BodyResult
) -> tuple[Finding, ...]:
    """Everything there is to say about a build, stops first."""
    return in_order(find_again(build, network, power, water, body, {}))


def find_again(
    build: Build,
    network: Network,
    power: PowerResult,
    water: WaterResult,
    body: BodyResult,
    previous: Mapping[str, Said],
) -> dict[str, Said]:
    """What every subject has to say; one that reads nothing new is not asked again.

    The rules of power and water read everything of an item but its place: that
    counts through the results, the heights and the lengths of cords. Rules of
    the body and of connections are cheap and are asked every time.
    """
    settings = _settings(build)
    cords = tuple(
        network.routes[run.id].length_m
        for run in build.runs
        if isinstance(run, Wire) and run.id in network.routes
    )
    return {
        "network": Said(
            (), (*network_rules.rules(build, network), *route_rules.rules(build, network))
        ),
        "power": _asked(
            previous.get("power"),
            (power, cords, *settings),
            partial(power_rules.rules, build, network, power),
        ),
        "water": _asked(
            previous.get("water"),
            (water, *settings),
            partial(water_rules.rules, build, network, water),
        ),
        "protection": Said((), tuple(power_leakage.place_rules(build, power))),
        "body": Said((), tuple(body_rules.rules(build, body))),
        "modules": Said((), tuple(module_rules.rules(build))),
    }


def _asked(
    old: Said | None, reads: tuple[Any, ...], rules: Callable[[], Iterable[Finding]]
) -> Said:
    return old if old is not None and _same(old.reads, reads) else Said(reads, tuple(rules()))


def in_order(said: Mapping[str, Said]) -> tuple[Finding, ...]:
    """All of it, stops first."""
    return tuple(
        sorted((one for each in said.values() for one in each.findings), key=Finding.sort_key)
    )


def _settings(build: Build) -> tuple[Any, ...]:
    return (
        build.region,
        build.cart,
        build.venue,
        build.service,
        build.cases,
        build.runs,
        *build.items,
    )


def _same(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    return len(old) == len(new) and all(
        a is b or _alike(a, b) for a, b in zip(old, new, strict=True)
    )


def _alike(old: Any, new: Any) -> bool:
    """Equal numbers and texts, or items that stand in different places and are otherwise one."""
    if isinstance(old, Item) and isinstance(new, Item):
        return all(
            getattr(old, name) is getattr(new, name) or getattr(old, name) == getattr(new, name)
            for name in _OF_ITEM
        )
    return isinstance(old, (str, tuple)) and old == new


_OF_ITEM = tuple(name for name in Item.__struct_fields__ if name not in ("x", "y"))
