"""The circuits board: what each breaker carries, and loads dragged from one to another."""

from dataclasses import replace

from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QAction, QColor, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QMenu, QSizePolicy, QWidget

from ...analysis import Analysis
from ...build import Build
from ...build.edits import EditError
from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from ...findings.number import Number
from ...power import move_to_circuit
from ...units import show_pair
from ..commands import sentence
from ..selection import Selection
from ..session import Session
from ..typical import marks_of
from .board import Board, Growing
from .circuit_bar import CircuitBar
from .circuit_rows import CircuitRow, circuit_rows, scale_of
from .room_menu import room_menu
from .supply_legs import SupplyLegs, supply_legs


class Scale(QWidget):
    """The line over the bars that says where 80 % and 100 % are."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._scale = 1.25
        self.setFixedHeight(13)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip(
            "80 %: as far as loads may go that run three hours or more, where the code asks "
            "125 % of the breaker for them. 100 %: the breaker's rating."
        )

    def show_scale(self, scale: float, theme: Theme) -> None:
        """Show another scale."""
        if scale == self._scale and theme is self._theme:
            return
        self._scale, self._theme = scale, theme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        used = font(TYPE.caption)
        painter.setFont(used)
        painter.setPen(QColor(self._theme.ink_muted))
        for share, text in ((0.8, "80 %"), (1.0, "100 %")):
            x = 1 + (self.width() - 2) * share / self._scale
            width = QFontMetricsF(used).horizontalAdvance(text) + 2
            left = x - width - 1 if share < 1 else x - width / 2 + 8
            painter.drawText(QRectF(left, 0, width + 4, 13), Qt.AlignmentFlag.AlignVCenter, text)
        painter.end()


class CircuitsBoard(Board):
    """One bar a circuit."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Circuits", parent)
        self._session = session
        self._marks = marks_of(session)
        self._marks.changed.connect(self._refresh)
        self._bars: dict[str, CircuitBar] = {}
        self._supplies: dict[str, SupplyLegs] = {}
        """The legs of whole generators, which are no circuits and take no loads."""
        self._taken: str | None = None
        self._over: str | None = None
        self._outcome: Build | None = None
        self.scale = Scale(session.theme)
        self._carried: QLabel | None = None
        self.add_scale(self.scale)
        self.area.column.setSpacing(3)
        session.analysis_changed.connect(self._refresh)
        session.system_changed.connect(self._refresh)
        session.theme_changed.connect(self._refresh)
        session.case_changed.connect(self._refresh)
        session.selection_changed.connect(self._show_selection)
        self._refresh()

    @property
    def bars(self) -> tuple[CircuitBar, ...]:
        """The bars from top to bottom."""
        return tuple(self._bars.values())

    def growing(self) -> tuple[Growing, ...]:
        return (*self._supplies.values(), *self.bars)

    @property
    def supplies(self) -> tuple[SupplyLegs, ...]:
        """The legs of each generator, from top to bottom."""
        return tuple(self._supplies.values())

    def bar(self, key: str) -> CircuitBar | None:
        """The bar of a circuit."""
        return self._bars.get(key)

    def _refresh(self, *_: object) -> None:
        session = self._session
        rows = tuple(
            replace(row, about=self._marks.of(row.told))
            for row in circuit_rows(session.analysis, session.power_case, session.system)
        )
        legs = supply_legs(session.analysis, session.power_case, session.system)
        scale = scale_of((*rows, *legs))
        if self._taken is not None and self._bars:
            # The ends of the bars stay where they are while a load hangs over them.
            scale = max(scale, self._bars[next(iter(self._bars))]._scale)
        there = [*self._bars, *self._supplies]
        if [row.key for row in (*rows, *legs)] != there and self._taken is None:
            self._build(rows, legs, scale)
        for row in legs:
            if row.key in self._supplies:
                self._supplies[row.key].show_row(row, scale, session.theme)
        for row in rows:
            if row.key in self._bars:
                self._bars[row.key].show_row(row, scale, session.theme)
        self.scale.show_scale(scale, session.theme)
        self.scale.setVisible(bool(rows))
        self._show_selection(session.selection)
        self.say_empty(
            ""
            if rows
            else "No circuit yet. Place a venue outlet, a generator or a battery from Stock, "
            "then drag from an appliance's plug to a receptacle."
        )
        if self._taken is None:
            self._say_what_can_be_done()

    def _build(
        self, rows: tuple[CircuitRow, ...], legs: tuple[CircuitRow, ...], scale: float
    ) -> None:
        """New bars; the legs of a generator stand above its first circuit."""
        theme = self._session.theme
        self.area.clear()
        self._bars, self._supplies = {}, {}
        above = {row.items[0]: row for row in legs}
        for row in rows:
            whole = above.pop(row.items[0], None) if row.items else None
            if whole is not None:
                bar = SupplyLegs(whole, scale, theme)
                bar.chosen.connect(self._chosen)
                bar.working_asked.connect(self._session.working_requested)
                self.area.add(bar)
                self._supplies[whole.key] = bar
            self._bars[row.key] = self._new_bar(CircuitBar(row, scale, theme))
        self.share_room()

    def _say_what_can_be_done(self) -> None:
        more = len(self._bars) > 1
        self.remark.set_whole("drag a load to another circuit" if more else "")

    def _new_bar(self, bar: CircuitBar) -> CircuitBar:
        bar.chosen.connect(self._chosen)
        bar.drag_started.connect(self._drag_started)
        bar.drag_moved.connect(self._drag_moved)
        bar.drag_dropped.connect(self._dropped)
        bar.drag_cancelled.connect(self._cancelled)
        bar.menu_requested.connect(self._menu)
        bar.room_requested.connect(self._room_menu)
        bar.working_asked.connect(self._session.working_requested)
        self.area.add(bar)
        return bar

    def _show_selection(self, selection: Selection) -> None:
        items = frozenset(selection.items)
        for bar in self._bars.values():
            bar.show_selection(items)

    def _chosen(self, items: tuple[str, ...]) -> None:
        self._session.show_on_plan(Selection(items=items))

    # Dragging a load

    def _drag_started(self, item_id: str) -> None:
        self._taken = item_id
        self._over = None
        self._outcome = None
        self._carry(item_id)

    def _carry(self, item_id: str) -> None:
        """Let the load hang at the mouse, so that it is seen what is being dragged."""
        bar = next((one for one in self.bars if one is self.sender()), None)
        if bar is None:
            return
        segment = next(one for one in bar.row.segments if one.item == item_id)
        accents = self._session.theme.circuits
        accent = accents.index(self._session.theme.circuit(bar.row.letter))
        self._carried = QLabel(f"{segment.text} A", self.window())
        self._carried.setProperty("carried", str(accent))
        self._carried.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._carried.adjustSize()
        self._carried.show()

    def _drag_moved(self, where: QPoint) -> None:
        if self._taken is None:
            return
        if self._carried is not None:
            self._carried.move(self.window().mapFromGlobal(where) + QPoint(12, 14))
        self._scroll_to(where)
        key = self._key_at(where)
        if key == self._over:
            return
        self._over = key
        self._try(key)

    def _scroll_to(self, where: QPoint) -> None:
        viewport = self.area.viewport()
        y = viewport.mapFromGlobal(where).y()
        bar = self.area.verticalScrollBar()
        if y < 12:
            bar.setValue(bar.value() - 10)
        elif y > viewport.height() - 12:
            bar.setValue(bar.value() + 10)

    def _key_at(self, where: QPoint) -> str | None:
        for key, bar in self._bars.items():
            if bar.rect().contains(bar.mapFromGlobal(where)):
                return key
        return None

    def _try(self, key: str | None) -> None:
        """Work out what letting go here would do, and show it."""
        session, item_id = self._session, self._taken
        self._outcome = None
        self._unmark()
        home = self._settled_circuit(item_id)
        if key is None or item_id is None or key == home:
            session.cancel_preview()
            self.remark.set_whole("let go over another circuit, Escape leaves it")
            return
        bar = self._bars[key]
        try:
            outcome = self._moved(item_id, key)
        except EditError as error:
            session.cancel_preview()
            bar.show_target("refused")
            self.remark.set_whole(sentence(str(error)))
            return
        self._outcome = outcome
        bar.show_target("fits", item_id)
        self.remark.set_whole(f"let go to move it to circuit {bar.row.letter}")
        session.preview(outcome)

    def _settled_circuit(self, item_id: str | None) -> str | None:
        if item_id is None:
            return None
        return self._session.settled.power.item_circuit.get(item_id)

    def _moved(self, item_id: str, key: str) -> Build:
        settled = self._session.settled
        return move_to_circuit(self._session.build, settled.network, settled.power, item_id, key)

    def _unmark(self) -> None:
        for bar in self._bars.values():
            bar.show_target("")

    def _dropped(self) -> None:
        outcome, item_id, key = self._outcome, self._taken, self._over
        self._end_drag()
        if outcome is None or item_id is None or key is None:
            self._session.cancel_preview()
            self._refresh()
        else:
            self._commit(item_id, key, outcome)

    def _commit(self, item_id: str, key: str, outcome: Build) -> None:
        item = outcome.item(item_id)
        name = item.name if item is not None else item_id
        bar = self._bars.get(key)
        letter = bar.row.letter if bar is not None else key
        self._session.apply(f"Move {name} to circuit {letter}", outcome)

    def _cancelled(self) -> None:
        self._end_drag()
        self._session.cancel_preview()
        self._refresh()

    def _end_drag(self) -> None:
        self._taken = self._over = self._outcome = None
        if self._carried is not None:
            self._carried.hide()
            self._carried.deleteLater()
            self._carried = None
        self._unmark()
        self._say_what_can_be_done()

    # The same by keys

    def _menu(self, item_id: str, where: QPoint) -> None:
        menu = self.move_menu(item_id)
        bar = next((one for one in self.bars if one is self.sender()), None)
        if bar is not None:
            self._offer_working(menu, bar.told_numbers())
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(where)

    def _room_menu(self, where: QPoint) -> None:
        bar = self.sender()
        key = next((one for one, other in self._bars.items() if other is bar), None)
        if key is not None:
            self.ask_room(key, where)

    def ask_room(self, key: str, where: QPoint | None = None) -> None:
        """Tell what a circuit has left, and offer what of the stock still goes on it."""
        circuit = self._session.settled.power.circuit(key)
        if circuit is None:
            return
        if where is None:
            bar = self._bars.get(key)
            at = bar if bar is not None and bar.isVisible() else self
            where = at.mapToGlobal(at.rect().center())
        menu = room_menu(self, self._session, circuit)
        own = self._bars.get(key)
        if own is not None:
            self._offer_working(menu, (*own.row.told, *own.row.judged))
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(where)

    def _offer_working(self, menu: QMenu, numbers: tuple[Number, ...]) -> None:
        menu.addSeparator()
        action = menu.addAction("Show Working")
        action.triggered.connect(lambda: self._session.working_requested.emit(numbers))

    def move_menu(self, item_id: str) -> QMenu:
        """A menu that offers every other circuit with what it would then carry."""
        menu = QMenu(self)
        menu.triggered.connect(self._menu_chosen)
        home = self._settled_circuit(item_id)
        for key, bar in self._bars.items():
            if key == home:
                continue
            action = QAction(f"Move to circuit {bar.row.letter}", menu)
            action.setData((item_id, key))
            try:
                outcome = self._session.try_out(self._moved(item_id, key))
            except EditError as error:
                action.setText(f"Circuit {bar.row.letter}: {sentence(str(error))}")
                action.setEnabled(False)
            else:
                action.setText(self._offer(outcome, key, bar.row.letter))
            menu.addAction(action)
        return menu

    def _offer(self, outcome: Analysis, key: str, letter: str) -> str:
        circuit = outcome.power.circuit(key)
        if circuit is None:
            return f"Move to circuit {letter}"
        amps = circuit.share * circuit.rating_a
        pair = show_pair(amps, circuit.rating_a, "current", self._session.system)
        over = "" if all(limit.holds for limit in circuit.limits) else ", too much"
        return f"Move to circuit {letter}: then {pair}{over}"

    def _menu_chosen(self, action: QAction) -> None:
        if action.data() is None:
            return  # it shows a working
        item_id, key = action.data()
        try:
            outcome = self._moved(item_id, key)
        except EditError as error:
            self._session.tell(sentence(str(error)))
        else:
            self._commit(item_id, key, outcome)
