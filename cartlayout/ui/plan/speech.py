"""What the plan says of itself to a screen reader: the selection in words."""

from ...analysis import Analysis
from ...build import Build, Item, Run, TubeRun
from ...documents.plan import PlanPicture
from ...units import UnitSystem, show
from ..selection import Selection
from ..session import Session
from .keys import Thing


def plan_in_words(build: Build, level: str) -> str:
    """Nothing is selected: what there is."""
    here = sum(item.level == level for item in build.items)
    noun = "item" if here == 1 else "items"
    return (
        f"Plan of {build.name}, level {level}: {here} {noun}. "
        "Tab walks through them; arrows move the selected one."
    )


def selection_in_words(
    build: Build,
    analysis: Analysis,
    picture: PlanPicture,
    selection: Selection,
    system: UnitSystem,
) -> str:
    """The selected things, the first ones by name and place, with the worst that is said."""
    texts = [
        _item(item, picture, analysis, system) for item in build.items if item.id in selection.items
    ]
    texts += [_run(build, run) for run in build.runs if run.id in selection.runs]
    if not texts:
        return plan_in_words(build, picture.cart.level)
    more = f" And {len(texts) - 3} more." if len(texts) > 3 else ""
    return " ".join(texts[:3]) + more


def thing_in_words(session: Session, thing: Thing) -> tuple[str, str]:
    """Name and description of one item or run, for a screen reader that comes to it."""
    build = session.analysis.build
    if thing.kind == "run":
        run = build.run(thing.id)
        text = _run(build, run) if run is not None else ""
        return text.rstrip("."), ""
    item = build.item(thing.id)
    if item is None:
        return "", ""
    return item.name, _item(item, None, session.analysis, session.system)


def _item(item: Item, picture: PlanPicture | None, analysis: Analysis, system: UnitSystem) -> str:
    body = picture.body(item.id) if picture is not None else None
    x, y = show(item.x.si, "length", system), show(item.y.si, "length", system)
    words = [f"{item.name}, on {item.level}, {x} from the left, {y} from the rear"]
    if body is not None and body.sub:
        words.append(body.sub)
    if item.locked:
        words.append("locked")
    if item.group:
        words.append(f"part of {item.group}")
    finding = next((one for one in analysis.findings if item.id in one.items[:1]), None)
    if finding is not None:
        words.append(f"{finding.severity}: {finding.title.shown(system)}")
    return ", ".join(words) + "."


def _run(build: Build, run: Run) -> str:
    kind = run.tube.name if isinstance(run, TubeRun) else "Wire"
    names = [
        item.name if (item := build.item(end.item)) is not None else "something missing"
        for end in (run.a, run.b)
        if end is not None
    ]
    way = " to ".join(names) if len(names) == 2 else f"{names[0]}, other end free"
    return f"{kind}, {way}."
