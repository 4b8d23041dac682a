"""What a circuit has left, and what of the stock can still be added to it, as a menu."""

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from ...advice.additions import Addition, additions, room_on
from ...build import Build, End
from ...build.edits import EditError
from ...build.geometry import port_position
from ...network import connect
from ...power.results import Circuit
from ...stock import placed
from ...units import show
from ..commands import sentence
from ..plan.dropping import free_spot, level_for
from ..selection import Selection
from ..session import Session

_MOST = 14


def room_menu(parent: QWidget, session: Session, circuit: Circuit) -> QMenu:
    """Room by each limit, and the largest things of the stock that still go on."""
    analysis, system = session.settled, session.system
    menu = QMenu(parent)
    left = room_on(analysis, circuit)
    watts = show(left.watts, "power", system)
    _told(menu, f"Circuit {circuit.letter}, {circuit.name}")
    menu.addSeparator()
    _told(menu, f"Room for {show(left.left.amps, 'current', system)}, {watts}")
    for name, amps in left.by_limit:
        limit = f"{name}, which feeds it" if name.startswith("circuit ") else f"its {name} limit"
        _told(menu, f"By {limit}: {show(amps, 'current', system)}")
    free = len(left.free)
    _told(menu, f"{free} free receptacle{'' if free == 1 else 's'}")
    menu.addSeparator()
    found = additions(analysis, circuit)
    more = menu.addMenu("Add from stock")
    more.setEnabled(bool(found))
    if not found:
        more.setTitle("Nothing in stock goes on it as it is")
    for one in found[:_MOST]:
        action = QAction(_words(session, one), more)
        action.setData(one)
        more.addAction(action)
    if len(found) > _MOST:
        _told(more, f"and {len(found) - _MOST} smaller ones")
    more.triggered.connect(_Adding(menu, session).add)
    return menu


def _told(menu: QMenu, text: str) -> None:
    action = menu.addAction(text)
    action.setEnabled(False)


def _words(session: Session, one: Addition) -> str:
    amps = show(one.amps, "current", session.system)
    then = show(one.share_after, "share", session.system)
    return f"{one.entry.name}: {amps}, then {then}"


class _Adding(QWidget):
    """Places what was chosen and plugs it in: one undo step. Lives as long as its menu."""

    def __init__(self, menu: QMenu, session: Session) -> None:
        super().__init__(menu)
        self.hide()
        self._session = session

    def add(self, action: QAction) -> None:
        """Add the chosen one."""
        one = action.data()
        if not isinstance(one, Addition):
            return
        session = self._session
        try:
            build, ids = added(session.build, one, session)
        except EditError as error:
            session.tell(sentence(str(error)))
            return
        session.apply(f"Add {one.entry.name}", build, select=Selection(items=ids))


def added(build: Build, one: Addition, session: Session) -> tuple[Build, tuple[str, ...]]:
    """The build with one more appliance, near its receptacle and plugged into it.

    Raises:
        EditError: it cannot be placed, or its plug does not go in.
    """
    host = build.item(one.receptacle[0])
    port = host.specification.port(one.receptacle[1]) if host is not None else None
    if host is None or port is None:
        raise EditError("the receptacle is gone")
    x, y, _ = port_position(build.cart, host, port)
    level = level_for(build, session.level, one.entry)
    spot = free_spot(build, one.entry, level, (x, y), session.system)
    build, ids = placed(build, one.entry, level, *spot)
    for item_id in ids:
        item = build.item(item_id)
        plug = next(
            (
                p.id
                for p in (item.specification.ports if item is not None else ())
                if p.medium == "power" and p.direction == "in"
            ),
            None,
        )
        if plug is not None:
            end = End(item=host.id, port=port.id)
            return connect(build, End(item=item_id, port=plug), end)[0], ids
    return build, ids
