"""What the command box lists: actions, lines of lists, items of the build, stock."""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

from ...build import VENUE, Item
from ...findings.finding import Finding
from ...stock import StockEntry, stock
from ..entries import Choice, Choices, Entry, plain
from ..selection import Selection
from .search import Line

if TYPE_CHECKING:
    from ..actions import EntryAction
    from ..main_window import MainWindow

ITSELF = "help.commands"
_SEVERITIES = {"stop": "will fail", "care": "may fail", "note": "worth knowing"}


def lines(window: "MainWindow") -> tuple[Line, ...]:
    """Everything that can be done now, and what cannot with the reason."""
    window.actions_.refresh()
    made: list[Line] = []
    for listed in window.actions_.listed:
        if isinstance(listed, Entry):
            if listed.key != ITSELF:
                made.append(_action(window.actions_[listed.key]))
        elif listed.at_start or not window.at_start:
            made.extend(_choices(window, listed))
    if not window.at_start:
        made.extend(_items(window))
        made.extend(_findings(window))
        made.extend(_stock(window))
    return tuple(made)


def _action(action: "EntryAction") -> Line:
    entry = action.entry
    under = entry.menu.partition("/")[2].replace("&", "")
    text = plain(action.text())
    return Line(
        key=entry.key,
        text=f"{under}: {text}" if under else text,  # "Left Edges" alone says too little
        place=entry.menu.replace("&", "").replace("/", " > "),
        run=action.trigger,
        key_text=action.key_text,
        words=f"{entry.words} {plain(entry.text)}",
        tip=entry.tip,
        enabled=action.isEnabled(),
        needs=_needs(action),
        is_on=action.isChecked() if action.isCheckable() else None,
    )


def _needs(action: "EntryAction") -> str:
    if action.at_start and not action.entry.at_start:
        return "Make or open a cart first."
    return action.entry.needs or "This cannot be done now."


def _choices(window: "MainWindow", choices: Choices) -> Iterator[Line]:
    verb = choices.verb or plain(choices.text)
    for choice in choices.list(window):
        yield Line(
            key=f"{choices.key}:{choice.text}",
            text=f"{verb}: {choice.text}",
            place=f"{choices.menu} > {plain(choices.text)}".replace("&", "").replace("/", " > "),
            run=partial(_choose, window, choices, choice),
            kind="choice",
            tip=choice.tip or choices.tip,
        )


def _choose(window: "MainWindow", choices: Choices, choice: Choice) -> None:
    choices.choose(window, choice.value)


def _items(window: "MainWindow") -> Iterator[Line]:
    for item in window.session.build.items:
        where = "at the venue" if item.level == VENUE else f"on the {item.level}"
        yield Line(
            key=f"item:{item.id}",
            text=f"Go to {item.name}",
            place=where,
            run=partial(_go_to, window, item),
            kind="item",
            words=f"{item.specification.name} select show find",
            tip="Select it, and bring it into sight on its level.",
        )


def _go_to(window: "MainWindow", item: Item) -> None:
    window.session.show_on_plan(Selection(items=(item.id,)))
    window.plan.setFocus()


def _findings(window: "MainWindow") -> Iterator[Line]:
    system = window.session.system
    for number, finding in enumerate(window.session.analysis.findings):
        yield Line(
            key=f"finding:{finding.code}:{number}",
            text=f"Show finding: {finding.title.shown(system)}",
            place=_SEVERITIES[finding.severity],
            run=partial(_show_finding, window, finding),
            kind="finding",
            words="problem warning",
            tip=finding.detail.shown(system),
        )


def _show_finding(window: "MainWindow", finding: Finding) -> None:
    window.show_panel("findings")
    window.session.show_on_plan(Selection(items=finding.items, runs=finding.runs))
    window.plan.setFocus()


def _stock(window: "MainWindow") -> Iterator[Line]:
    region = window.session.build.region
    for entry in stock():
        if not entry.regions or region in entry.regions:
            yield Line(
                key=f"stock:{entry.key}",
                text=f"Place {entry.name}",
                place=f"Stock > {entry.category}",
                run=partial(_place, window, entry),
                kind="stock",
                words=f"add {' '.join(entry.words)}",
                tip="Put it on a free spot near the middle of the plan.",
            )


def _place(window: "MainWindow", entry: StockEntry) -> None:
    window.plan.place_stock(entry.key)
    window.plan.setFocus()
