"""An assignment put into a build: plugs in other receptacles, one new build."""

from msgspec.structs import replace

from ...build import Build, End, Wire
from ...build.edits import EditError, remove, replace_run
from ...network import connect
from ...network.results import Node
from .optimum import Answer
from .problem import Problem


def moved(problem: Problem, answer: Answer) -> tuple[tuple[str, Node], ...]:
    """(item id, receptacle it goes to) for every load that moves.

    Loads that stay keep their own receptacle; the others take what is free in their new place.
    """
    staying = {
        at: [
            load
            for load, place in zip(problem.loads, answer.chosen, strict=True)
            if place == at and load.now == at
        ]
        for at in range(len(problem.places))
    }
    found = []
    for at, place in enumerate(problem.places):
        if place.extra:
            continue
        taken = {load.receptacle for load in staying[at]}
        free = [node for node in place.nodes if node not in taken]
        for load, chosen in zip(problem.loads, answer.chosen, strict=True):
            if chosen == at and load.now != at:
                found.append((load.item, free.pop(0)))
    return tuple(found)


def assigned(build: Build, problem: Problem, answer: Answer) -> Build:
    """The build with every load of an answer in its place; one without a place is unplugged.

    Raises:
        EditError: the build is no longer the one that the problem was made from.
    """
    plugs = {load.item: load for load in problem.loads}
    unplugged = [
        load.wire
        for load, place in zip(problem.loads, answer.chosen, strict=True)
        if place is None and load.wire is not None and load.now is not None
    ]
    if unplugged:
        build = remove(build, run_ids=unplugged)
    for item_id, node in moved(problem, answer):
        load = plugs[item_id]
        receptacle = End(item=node[0], port=node[1])
        if load.wire is None:
            continue
        wire = build.run(load.wire)
        if not isinstance(wire, Wire):
            raise EditError(f"the wire of {load.name} is gone; plan anew")
        plug = End(item=load.plug[0], port=load.plug[1])
        build = replace_run(build, replace(wire, a=plug, b=receptacle, waypoints=()))
    for item_id, node in moved(problem, answer):
        load = plugs[item_id]
        if load.wire is None:
            plug = End(item=load.plug[0], port=load.plug[1])
            build, _ = connect(build, plug, End(item=node[0], port=node[1]))
    return build
