"""What the build can be held against: earlier states of its own, and other files."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from ...build import Build
from ...build.file import load
from ..session import Session
from ..undo import state_at

MOST_STEPS = 8
"""So many earlier steps are offered by name."""


@dataclass(frozen=True, slots=True)
class State:
    """Another state of the build, or another build, that can be got at."""

    name: str
    """Completes "Compared with ..."."""
    read: Callable[[], Build]
    """Raises `CartFileError` where a file cannot be read."""
    tip: str = ""


def of_file(path: Path) -> State:
    """Another file."""
    return State(path.name, partial(load, path), str(path))


def earlier(session: Session) -> tuple[State, ...]:
    """States that the build had before: as it was saved, before the latest steps, as opened."""
    stack = session.undo_stack
    found = []
    clean = state_at(stack, stack.cleanIndex())
    if session.path is not None and session.dirty:
        found.append(
            State("what was last saved", partial(load, session.path), str(session.path))
            if clean is None
            else _state("what was last saved", clean)
        )
    for index in range(stack.index() - 1, max(-1, stack.index() - 1 - MOST_STEPS), -1):
        build = state_at(stack, index)
        if build is not None:
            found.append(_state(f"before {stack.text(index)}", build))
    first = state_at(stack, 0)
    if first is not None and stack.index() > MOST_STEPS:
        found.append(_state("as it was opened", first))
    return tuple(found)


def _state(name: str, build: Build) -> State:
    return State(name, lambda: build)
