"""What to say about modules that are lifted out: what still holds them to the cart."""

from collections.abc import Iterator

from ..build import Build, Item, Load
from ..build.groups import crossing_tubes, lift_outs
from ..stock.modules import parts_by_hand
from ..stock.trays import is_tray
from ..units import Phrase
from .finding import Finding

_PRACTICE = "common practice, no source"


def rules(build: Build) -> Iterator[Finding]:
    """Tubes that leave a lift-out module for good, and what is wired in."""
    for items in lift_outs(build).values():
        name = _name(items)
        ids = tuple(item.id for item in items)
        for tube in crossing_tubes(build, ids):
            if not parts_by_hand(build, tube):
                yield _joint(build, name, tube.id, ids)
        for item in items:
            role = item.specification.electrical
            if isinstance(role, Load) and role.hardwired:
                yield Finding(
                    "care",
                    "module.wired-in",
                    Phrase.of("{item} is wired in and cannot be lifted out", item=item.name),
                    Phrase.of(
                        "It is part of {module}. Have an electrician put a plug on its cord, "
                        "or mount it in the cart.",
                        module=name,
                    ),
                    (item.id,),
                    source=_PRACTICE,
                )


def _name(items: tuple[Item, ...]) -> str:
    """What to call a module: by its tray, or by the first of its parts."""
    tray = next((item for item in items if is_tray(item)), None)
    return tray.name if tray is not None else f"the module of {items[0].name}"


def _joint(build: Build, module: str, run_id: str, ids: tuple[str, ...]) -> Finding:
    run = build.run(run_id)
    ends = [run.a, run.b] if run is not None else []
    inside = next((end.item for end in ends if end is not None and end.item in ids), "")
    outside = next((end.item for end in ends if end is not None and end.item not in ids), "")
    near, far = build.item(inside), build.item(outside)
    return Finding(
        "care",
        "module.joint",
        Phrase.of(
            "The tube from {a} to {b} does not come apart by hand",
            a=near.name if near is not None else inside,
            b=far.name if far is not None else outside,
        ),
        Phrase.of(
            "It leaves {module}, which is lifted out. Put a quick-connect with valves in it: "
            "Make Lift-out Module does, and counts what it takes of the pressure.",
            module=module,
        ),
        (inside, outside),
        (run_id,),
        source=_PRACTICE,
    )
