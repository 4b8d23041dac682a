"""What every drag on the plan has in common."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import Qt

from ..snapping import Box, Guide

if TYPE_CHECKING:
    from ..view import PlanView

XY = tuple[float, float]
"""A place on the plan, metres."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A distance shown while dragging, from what is dragged to something else, metres."""

    a: XY
    b: XY
    text: str


@dataclass(frozen=True, slots=True)
class Trace:
    """What a drag draws over the plan while it lasts. Metres throughout."""

    guides: tuple[Guide, ...] = ()
    measures: tuple[Measure, ...] = ()
    dragged: Box | None = None
    """Around what is dragged: numbers keep off it."""
    band: Box | None = None
    rubber: tuple[XY, XY] | None = None
    rubber_ok: bool | None = None
    """None: over nothing; True: lets go onto something that fits."""
    lit: tuple[XY, ...] = ()
    """Ports that fit what is dragged."""
    target: XY | None = None
    """The one that it would be joined to."""


NOTHING = Trace()
Cursor = Qt.CursorShape


class Gesture:
    """One drag: moves are previews, the release is one undo step, Escape restores.

    Every method gets the place in metres and the keyboard modifiers.
    """

    cursor: Cursor = Cursor.ArrowCursor
    kind: Literal["move", "connect", "replug", "bend", "band", "pan", "drop", "turn"] = "move"

    def __init__(self, view: "PlanView") -> None:
        self.view = view
        self.session = view.session

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """The mouse is here now."""

    def finished(self) -> None:
        """The button was let go: keep what is previewed."""

    def cancelled(self) -> None:
        """Escape: put everything back."""
        self.session.cancel_preview()


def free_of_snap(modifiers: Qt.KeyboardModifier) -> bool:
    """Whether the person holds Alt or Ctrl, to put things exactly where the mouse is."""
    held = Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.ControlModifier
    return bool(modifiers & held)
