"""Everything that is on the cart, as a list: find it, pick it, see what is said about it."""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QModelIndex, QObject, QSize, Qt
from PySide6.QtGui import QContextMenuEvent, QIcon, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLineEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from ..analysis import Analysis
from ..build import VENUE, Build, Item, Run, TubeRun
from ..documents.plan.bodies import worst_by_item
from ..documents.plan.runs import run_medium, worst_by_run
from ..documents.theme import Theme
from . import commands, widgets
from .icons import icon
from .item_rows import NOTE, SEVERITY, ItemRows
from .plan.menu import make_menu
from .plan.view import PlanView
from .selection import NOTHING, Selection
from .session import Session
from .stock_panel import symbol_pixmap

_ROLE = Qt.ItemDataRole.UserRole
_ICON_PX = 18
_MEDIA = {"power": "Wires", "water": "Supply tubes", "drain": "Drain tubes"}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the list."""

    kind: str
    """"item" or "run"."""
    id: str
    heading: str
    text: str
    note: str = ""
    severity: str = ""
    picture: str = ""
    """Symbol of an item, medium of a run."""
    words: str = ""
    """More by which it is found."""

    def answers(self, wish: str) -> bool:
        """Whether every word typed is part of it."""
        whole = f"{self.text} {self.note} {self.heading} {self.words}".lower()
        return all(word in whole for word in wish.lower().split())


def rows_of(build: Build, analysis: Analysis) -> tuple[Row, ...]:
    """Items by level, the top one first, then what is the venue's, then wires and tubes."""
    items, runs = worst_by_item(analysis), worst_by_run(analysis)
    levels = sorted(build.cart.levels, key=lambda level: -level.height.si)
    order = [(level.name, level.name.capitalize()) for level in levels]
    order.append((VENUE, "Venue"))
    rows = [
        _item_row(item, heading, items.get(item.id, ""))
        for name, heading in order
        for item in sorted(
            (item for item in build.items if item.level == name), key=lambda one: one.name.lower()
        )
    ]
    for medium, heading in _MEDIA.items():
        rows += [
            _run_row(build, run, heading, medium, runs.get(run.id, ""))
            for run in build.runs
            if run_medium(build, run) == medium
        ]
    return tuple(rows)


def _item_row(item: Item, heading: str, severity: str) -> Row:
    notes = [item.group or "", "locked" if item.locked else ""]
    spec = item.specification
    return Row(
        "item",
        item.id,
        heading,
        item.name,
        ", ".join(note for note in notes if note),
        severity,
        spec.symbol,
        f"{spec.name} {spec.kind} {item.id} {severity}",
    )


def _run_row(build: Build, run: Run, heading: str, medium: str, severity: str) -> Row:
    names = []
    for end in (run.a, run.b):
        item = build.item(end.item) if end is not None else None
        names.append(item.name if item is not None else "nothing")
    sort = run.tube.name if isinstance(run, TubeRun) else "wire"
    words = f"{run.id} {sort} {medium} {severity}"
    return Row("run", run.id, heading, " to ".join(names), "", severity, medium, words)


class ItemsTree(QTreeWidget):
    """The list itself."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.rows = ItemRows(theme, self)
        self.setItemDelegate(self.rows)
        self.setHeaderHidden(True)
        self.setIndentation(0)
        self.setRootIsDecorated(False)
        self.setMouseTracking(True)
        self.setExpandsOnDoubleClick(False)
        self.setIconSize(QSize(_ICON_PX, _ICON_PX))
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setAccessibleName("Items, wires and tubes of the cart")
        self.setAccessibleDescription("Arrows select, Enter edits the label, Delete takes away")

    def moveCursor(
        self, action: QAbstractItemView.CursorAction, modifiers: Qt.KeyboardModifier
    ) -> QModelIndex:
        """Headings are stepped over; Left goes to one, to fold it with Left again."""
        ways = QAbstractItemView.CursorAction
        index = super().moveCursor(action, modifiers)
        if action in (ways.MoveLeft, ways.MoveRight):
            return index
        back = action in (ways.MoveUp, ways.MovePrevious, ways.MovePageUp)
        while index.isValid() and not index.parent().isValid():
            index = self.indexAbove(index) if back else self.indexBelow(index)
        return index if index.isValid() else self.currentIndex()


class ItemsList(QWidget):
    """Search field and list; what is selected in it is selected on the plan."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self.setAccessibleName("Items")
        self._session = session
        self._rows: tuple[Row, ...] = ()
        self._lines: dict[tuple[str, str], QTreeWidgetItem] = {}
        self._heads: tuple[QTreeWidgetItem, ...] = ()
        self._pictures: dict[tuple[str, str], QIcon] = {}
        self._folded: set[str] = set()
        self._following = False
        self._stale = True
        self.field = QLineEdit()
        self.field.setPlaceholderText("Find on this cart")
        self.field.setClearButtonEnabled(True)
        self.field.setAccessibleName("Find on this cart")
        self.field.setToolTip("Any words: a name, a level, a sort, stop or care")
        self.field.textChanged.connect(self._filter)
        self.field.returnPressed.connect(self._first)
        self.field.installEventFilter(self)
        self.tree = ItemsTree(session.theme)
        self.tree.installEventFilter(self)
        self.tree.itemSelectionChanged.connect(self._picked)
        self.tree.itemClicked.connect(self._clicked)
        self.tree.itemActivated.connect(self._activated)
        self.tree.itemExpanded.connect(self._unfolded)
        self.tree.itemCollapsed.connect(self._folded_up)
        self.none = widgets.wrapped("", "muted")
        self.none.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 6, 6, 4)
        column.setSpacing(8)
        column.addLayout(widgets.row(self.field))
        column.addWidget(self.none)
        column.addWidget(self.tree, 1)
        session.build_changed.connect(self._changed)
        session.analysis_changed.connect(self._changed)
        session.selection_changed.connect(self._selection_changed)
        session.theme_changed.connect(self._theme_changed)

    def focus_search(self) -> None:
        """Put the cursor into the search field."""
        self.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.field.selectAll()

    # What the session says

    def _changed(self, _value: object) -> None:
        if self._session.previewing:
            return  # a drag moves things, it makes and names none
        if self.isVisible():
            self._refresh()
        else:
            self._stale = True

    def showEvent(self, event: QShowEvent) -> None:
        if self._stale:
            self._refresh()
        super().showEvent(event)

    def _theme_changed(self, theme: Theme) -> None:
        self.tree.rows.theme = theme
        self._pictures.clear()
        self._rows = ()
        self._changed(None)

    def _refresh(self) -> None:
        session = self._session
        self._stale = False
        rows = rows_of(session.build, session.settled)
        if rows != self._rows:
            self._rows = rows
            self._fill()

    def _fill(self) -> None:
        self._following = True
        top = self.tree.verticalScrollBar().value()
        self.tree.clear()
        self._lines.clear()
        heads: dict[str, QTreeWidgetItem] = {}
        for row in self._rows:
            head = heads.get(row.heading)
            if head is None:
                head = heads[row.heading] = self._head(row.heading)
            line = self._line(row)
            self._lines[row.kind, row.id] = line
            head.addChild(line)
        self._heads = tuple(heads.values())
        for name, head in heads.items():
            head.setExpanded(name not in self._folded)
            self._arrow(head)
        self._following = False
        self._filter(self.field.text())
        self._selection_changed(self._session.selection)
        self.tree.verticalScrollBar().setValue(top)

    def _head(self, name: str) -> QTreeWidgetItem:
        head = QTreeWidgetItem([name])
        head.setFlags(Qt.ItemFlag.ItemIsEnabled)
        self.tree.addTopLevelItem(head)
        return head

    def _line(self, row: Row) -> QTreeWidgetItem:
        line = QTreeWidgetItem([row.text])
        line.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
        line.setData(0, _ROLE, row)
        line.setIcon(0, self._picture(row))
        line.setData(0, NOTE, row.note)
        line.setData(0, SEVERITY, row.severity)
        said = f", {row.severity}" if row.severity else ""
        line.setToolTip(0, f"{row.text}{', ' if row.note else ''}{row.note}{said}")
        line.setData(
            0, Qt.ItemDataRole.AccessibleTextRole, f"{row.text}, {row.heading}, {row.note}{said}"
        )
        return line

    def _picture(self, row: Row) -> QIcon:
        theme = self._session.theme
        if row.kind == "run":
            return icon(row.picture, theme)
        key = (row.picture, theme.name)
        if key not in self._pictures:
            made = QIcon()
            for ratio in (1, 2, 3):
                made.addPixmap(symbol_pixmap(row.picture, theme, _ICON_PX, ratio))
            self._pictures[key] = made
        return self._pictures[key]

    def _selection_changed(self, selection: Selection) -> None:
        if self._following:
            return
        self._following = True
        self.tree.clearSelection()
        keys = [("item", one) for one in selection.items] + [("run", one) for one in selection.runs]
        for key in keys:
            line = self._lines.get(key)
            if line is not None:
                line.setSelected(True)
                if key == keys[-1]:
                    self.tree.setCurrentItem(
                        line, 0, self.tree.selectionModel().SelectionFlag.NoUpdate
                    )
                    self.tree.scrollToItem(line)
        self._following = False

    # What the person does

    def _filter(self, wish: str) -> None:
        was, self._following = self._following, True
        self._show_found(wish)
        self._following = was

    def _show_found(self, wish: str) -> None:
        found = 0
        for head in self._heads:
            some = 0
            for number in range(head.childCount()):
                line = head.child(number)
                shown = line.data(0, _ROLE).answers(wish)
                line.setHidden(not shown)
                some += shown
            head.setHidden(not some)
            head.setExpanded(bool(wish.strip()) or head.text(0) not in self._folded)
            self._arrow(head)
            found += some
        self.tree.setVisible(bool(found))
        self.none.setVisible(not found)
        nothing = "Nothing stands on this cart yet." if not self._rows else ""
        self.none.setText(nothing or f"Nothing on this cart answers to '{wish.strip()}'.")

    def _picked(self) -> None:
        if self._following:
            return
        rows = [line.data(0, _ROLE) for line in self.tree.selectedItems()]
        chosen = Selection(
            items=tuple(row.id for row in rows if row.kind == "item"),
            runs=tuple(row.id for row in rows if row.kind == "run"),
        )
        self._following = True
        if chosen:
            self._session.show_on_plan(chosen)
        else:
            self._session.select(NOTHING)
        self._following = False

    def _clicked(self, line: QTreeWidgetItem, _column: int) -> None:
        if line.parent() is None:
            line.setExpanded(not line.isExpanded())

    def _unfolded(self, head: QTreeWidgetItem) -> None:
        if not self._following:
            self._folded.discard(head.text(0))
            self._arrow(head)

    def _folded_up(self, head: QTreeWidgetItem) -> None:
        if not self._following:
            self._folded.add(head.text(0))
            self._arrow(head)

    def _activated(self, line: QTreeWidgetItem, _column: int) -> None:
        row = line.data(0, _ROLE)
        if row is not None and row.kind == "item":
            self._session.label_requested.emit(row.id)
        elif row is not None:
            commands.edit_fields(self._session)

    def _arrow(self, head: QTreeWidgetItem) -> None:
        head.setIcon(0, icon("opened" if head.isExpanded() else "closed", self._session.theme))

    def _first(self) -> None:
        """Enter in the field picks the first that was found."""
        if self.field.text().strip():
            self._enter_tree()

    def _enter_tree(self) -> None:
        for key in ((row.kind, row.id) for row in self._rows):
            line = self._lines[key]
            if not line.isHidden():
                self.tree.setFocus(Qt.FocusReason.OtherFocusReason)
                self.tree.setCurrentItem(line)
                return

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The menu of the plan, for what is selected here."""
        view = getattr(self.window(), "plan", None)
        if isinstance(view, PlanView) and self._session.selection and view.gesture is None:
            menu = make_menu(view, None)
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(event.globalPos())
        event.accept()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            key = event.key()
            if watched is self.field and key == Qt.Key.Key_Down:
                self._enter_tree()
                return True
            if watched is self.tree and key == Qt.Key.Key_Delete:
                commands.delete(self._session)
                return True
        return super().eventFilter(watched, event)
