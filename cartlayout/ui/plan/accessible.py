"""What a screen reader finds on the plan: a list of everything drawn on the shown level.

Each item, wire and tube is a child with a name, a description, a place and a
state. Qt owns what is registered with it; what goes off the plan is taken off
its books at once, so that no reader is left with something that is no more.
"""

from functools import partial
from typing import TYPE_CHECKING, Any
from weakref import WeakKeyDictionary, ref

from PySide6.QtCore import QObject, QPoint, QPointF, QRect
from PySide6.QtGui import QAccessible, QAccessibleEvent, QAccessibleInterface
from PySide6.QtWidgets import QAccessibleWidget
from shiboken6 import isValid

from .keys import Thing, things_in_order
from .speech import thing_in_words

if TYPE_CHECKING:
    from .view import PlanView

Interface = Any
"""QAccessibleInterface, or None for none, which the stubs of PySide6 leave out."""
_TEXT = QAccessible.Text
_LEAST_PX = 8


class ThingAccessible(QAccessibleInterface):
    """One item or run on the plan."""

    def __init__(self, owner: "PlanAccessible", thing: Thing) -> None:
        super().__init__()
        self.owner = owner
        self.thing = thing

    def isValid(self) -> bool:
        return isValid(self.owner) and self.thing in self.owner.things()

    def object(self) -> Any:
        return None

    def text(self, kind: QAccessible.Text) -> str:
        name, description = thing_in_words(self.owner.view.session, self.thing)
        if kind == _TEXT.Name:
            return name
        return description if kind == _TEXT.Description else ""

    def setText(self, kind: QAccessible.Text, text: str) -> None:
        """Names are edited in the details."""

    def rect(self) -> QRect:
        return self.owner.rect_of(self.thing)

    def role(self) -> QAccessible.Role:
        return QAccessible.Role.ListItem

    def state(self) -> QAccessible.State:
        return self.owner.state_of(self.thing)

    def parent(self) -> QAccessibleInterface:
        return self.owner

    def child(self, index: int) -> Interface:
        return None

    def childAt(self, x: int, y: int) -> Interface:
        return None

    def childCount(self) -> int:
        return 0

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        return -1


class PlanAccessible(QAccessibleWidget):
    """The plan as a list."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view, QAccessible.Role.List)
        self._view = ref(view)
        self.known: dict[Thing, ThingAccessible] = {}
        view.destroyed.connect(partial(_forget_all, self.known))

    @property
    def view(self) -> "PlanView":
        """The plan; Qt asks nothing of a plan that is gone."""
        view = self._view()
        if view is None:
            raise RuntimeError("the plan is gone")
        return view

    def things(self) -> tuple[Thing, ...]:
        """What is drawn, in the order in which Tab walks through it."""
        view = self._view()
        return things_in_order(view) if view is not None and isValid(view) else ()

    def childCount(self) -> int:
        return len(self.things())

    def child(self, index: int) -> Interface:
        things = self.things()
        return self._of(things[index]) if 0 <= index < len(things) else None

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        thing = getattr(child, "thing", None)
        things = self.things()
        return things.index(thing) if thing in things else -1

    def childAt(self, x: int, y: int) -> Interface:
        at = self.view.viewport().mapFromGlobal(QPoint(x, y))
        found = self.view.mouse.hit(QPointF(at))
        thing = Thing("run", found.run) if found.kind == "run" else Thing("item", found.item)
        return self._of(thing) if thing in self.things() else None

    def focusChild(self) -> Interface:
        chosen = [thing for thing in self.things() if self._selected(thing)]
        return self._of(chosen[0]) if chosen and self.view.hasFocus() else None

    def rect_of(self, thing: Thing) -> QRect:
        """Where something is on the screen."""
        scene, view = self.view.plan, self.view
        polygon = scene.polygon(thing.id) if thing.kind == "item" else scene.line(thing.id)
        if polygon.isEmpty():
            return QRect()
        box = view.mapFromScene(polygon.boundingRect()).boundingRect()
        middle = box.center()
        box.setWidth(max(box.width(), _LEAST_PX))
        box.setHeight(max(box.height(), _LEAST_PX))
        box.moveCenter(middle)
        return QRect(view.viewport().mapToGlobal(box.topLeft()), box.size())

    def state_of(self, thing: Thing) -> QAccessible.State:
        """Whether it is selected, and has the keyboard."""
        state = QAccessible.State()
        state.selectable = state.focusable = state.multiSelectable = True
        chosen = self._selected(thing)
        state.selected = chosen
        state.focused = chosen and self.view.hasFocus()
        return state

    def _selected(self, thing: Thing) -> bool:
        selection = self.view.session.selection
        return thing.id in (selection.items if thing.kind == "item" else selection.runs)

    def _of(self, thing: Thing) -> ThingAccessible:
        known = self.known.get(thing)
        if known is None:
            known = self.known[thing] = ThingAccessible(self, thing)
            QAccessible.registerAccessibleInterface(known)
        return known

    def tidy(self) -> None:
        """Take what is no longer drawn off Qt's books."""
        if not self.known:
            return
        here = set(self.things())
        for thing in [one for one in self.known if one not in here]:
            _forget(self.known, thing)


def _forget(known: dict[Thing, ThingAccessible], thing: Thing) -> None:
    gone = known.pop(thing)
    if isValid(gone):
        QAccessible.deleteAccessibleInterface(QAccessible.uniqueId(gone))


def _forget_all(known: dict[Thing, ThingAccessible], _view: object = None) -> None:
    for thing in list(known):
        _forget(known, thing)


_MADE: WeakKeyDictionary["PlanView", PlanAccessible] = WeakKeyDictionary()
_INSTALLED: list[bool] = []


def _make(_name: str, thing: QObject) -> QAccessibleInterface | None:
    from .view import PlanView

    if not isinstance(thing, PlanView):
        return None
    made = _MADE[thing] = PlanAccessible(thing)
    return made


def install() -> None:
    """Let Qt ask here for what a plan is to a screen reader."""
    if not _INSTALLED:
        _INSTALLED.append(True)
        QAccessible.installFactory(_make)


def tidy(view: "PlanView") -> None:
    """The plan was drawn anew: forget what is not on it any more."""
    made = _MADE.get(view)
    if made is not None and isValid(made):
        made.tidy()


def announce(view: "PlanView") -> None:
    """Tell a screen reader, if one listens, that the keyboard is on another thing now."""
    if not QAccessible.isActive() or not view.hasFocus():
        return
    selection = view.session.selection
    wanted = [Thing("item", one) for one in selection.items]
    wanted += [Thing("run", one) for one in selection.runs]
    things = things_in_order(view)
    if wanted and wanted[0] in things:
        event = QAccessibleEvent(view, QAccessible.Event.Focus)
        event.setChild(things.index(wanted[0]))
        QAccessible.updateAccessibility(event)
