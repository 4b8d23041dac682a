"""What to say about connections that cannot be right."""

from collections.abc import Iterator

from ..build import Build
from ..limits import power_connector, water_connector
from ..network.results import Network, Problem
from ..units import Phrase
from .finding import Finding, Severity

_PRACTICE = "common practice, no source"

# code -> (severity, title, what to do, source)
_SAID: dict[str, tuple[Severity, str, str, str]] = {
    "free-end": (
        "note",
        "{run} has a free end",
        "It starts at {a} and ends in nothing. Drag its end to a port, or delete it.",
        "",
    ),
    "end-missing": (
        "care",
        "{run} ends at something that is not there",
        "It was left out of every calculation: {detail}. Connect it again or delete it.",
        "",
    ),
    "same-item": (
        "stop",
        "{run} joins {a} to itself",
        "It was left out of the calculation. Drag one end to another item.",
        "",
    ),
    "mixed-media": (
        "stop",
        "{run} joins what must stay apart",
        "Between {a} and {b}: {detail}. Power, supply water and drains never share a run.",
        _PRACTICE,
    ),
    "power.ends-alike": (
        "stop",
        "{a} and {b} cannot be plugged together",
        "On this wire {detail}. A wire goes from a plug to a receptacle.",
        "",
    ),
    "power.misfit": (
        "stop",
        "{a} does not plug into {b}",
        "The plug and the receptacle do not go together: {detail}. Use an outlet of the right "
        "sort; do not use an adapter to get round a rating.",
        "",
    ),
    "power.receptacle-shared": (
        "stop",
        "Two plugs in one receptacle of {a}",
        "One receptacle takes one plug. Move one of {others} to a free receptacle.",
        _PRACTICE,
    ),
    "power.plug-twice": (
        "stop",
        "The plug of {a} is in two places",
        "It is drawn in {others} at once. Delete one of the wires.",
        "",
    ),
    "power.loop": (
        "stop",
        "Wires run in a ring through {all}",
        "Power comes back to where it started. Unplug one of the wires; the amps shown count "
        "each load once.",
        _PRACTICE,
    ),
    "power.two-supplies": (
        "stop",
        "{all} feed into each other",
        "Two supplies joined together back-feed: plugs become live and breakers no longer protect. "
        "Unplug one of them.",
        _PRACTICE,
    ),
    "water.thread": (
        "stop",
        "A tube between {a} and {b} does not fit",
        "{detail}. Choose a tube or hose whose ends fit, or an adapter.",
        "",
    ),
    "water.ends-alike": (
        "stop",
        "{a} and {b} are joined the wrong way",
        "On this tube {detail}: water has nowhere to go. Turn one end round.",
        "",
    ),
    "drain.ends-alike": (
        "stop",
        "The drains of {a} and {b} are joined the wrong way",
        "On this tube {detail}: nothing would run off. Lead it to a waste tank or a drain.",
        "",
    ),
    "water.port-shared": (
        "stop",
        "More than one tube on one port of {a}",
        "A port takes one tube. Put a tee or a manifold between {a} and {others}.",
        "",
    ),
    "drain.port-shared": (
        "care",
        "More than one drain tube on one port of {a}",
        "{others} share one opening. Use a wye or a waste manifold of the right bore.",
        _PRACTICE,
    ),
    "drain.loop": (
        "stop",
        "Drain tubes run in a ring through {all}",
        "Waste would come back to where it started. Lead one of them to the waste tank.",
        "",
    ),
}


def rules(build: Build, network: Network) -> Iterator[Finding]:
    """Say every connection problem in words."""
    for problem in network.problems:
        severity, title, detail, source = _SAID[problem.code]
        words = _words(build, problem)
        yield Finding(
            severity,
            f"network.{problem.code}",
            Phrase.of(title, **words),
            Phrase.of(detail, **words),
            problem.items,
            problem.runs,
            source=source or _standard(build, problem),
        )


def _standard(build: Build, problem: Problem) -> str:
    """The standards of the connectors that do not go together."""
    if problem.code not in ("power.misfit", "water.thread"):
        return ""
    look_up = power_connector if problem.code == "power.misfit" else water_connector
    found = []
    for item_id, port_id in problem.ends:
        item = build.item(item_id)
        port = item.specification.port(port_id) if item is not None else None
        row = look_up(port.connector) if port is not None else None
        if row is not None:
            found.append(row.citation)
    return "; ".join(dict.fromkeys(found))


def _words(build: Build, problem: Problem) -> dict[str, str]:
    names = [_name(build, one) for one in problem.items]
    run = build.run(problem.runs[0]) if problem.runs else None
    kind = "A wire" if type(run).__name__ == "Wire" else "A tube"
    at = f" at {names[0]}" if names else ""
    return {
        "run": kind + at,
        "a": names[0] if names else "one end",
        "b": names[1] if len(names) > 1 else "the other end",
        "others": _list(names[1:]) or "them",
        "all": _list(names),
        "detail": problem.detail,
    }


def _name(build: Build, item_id: str) -> str:
    item = build.item(item_id)
    return item.name if item is not None else item_id


def _list(names: list[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
