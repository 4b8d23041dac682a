"""The stock at the left: find equipment, drag it onto the plan."""

from functools import lru_cache

from PySide6.QtCore import (
    QByteArray,
    QEvent,
    QMimeData,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QDrag,
    QFontMetricsF,
    QIcon,
    QKeyEvent,
    QPainter,
    QPixmap,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from ..build import Build
from ..documents.fonts import font
from ..documents.plan import Box
from ..documents.plan.paint import draw_symbol
from ..documents.theme import TYPE, Theme
from ..stock import StockEntry, categories, search
from ..units import show
from . import widgets
from .icons import icon
from .session import Session

Index = QModelIndex | QPersistentModelIndex
MIME = "application/x-cartlayout-stock"
_KEY = Qt.ItemDataRole.UserRole
_SYMBOL = Qt.ItemDataRole.UserRole + 1


def stock_mime(key: str) -> QMimeData:
    """What a drag from the stock carries."""
    data = QMimeData()
    data.setData(MIME, QByteArray(key.encode()))
    return data


def symbol_pixmap(name: str, theme: Theme, size: int, ratio: float = 1.0) -> QPixmap:
    """A silhouette as pixels."""
    made = QPixmap(round(size * ratio), round(size * ratio))
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw_symbol(painter, name, Box(1.0, 1.0, size - 2.0, size - 2.0), theme.ink, theme.panel, 1.3)
    painter.end()
    return made


@lru_cache(maxsize=1024)
def symbol_icon(name: str, theme: Theme, size: int) -> QIcon:
    """A silhouette as an icon, sharp on screens of twice the usual density too."""
    made = QIcon()
    for ratio in (1, 2):
        made.addPixmap(symbol_pixmap(name, theme, size, ratio))
    return made


class StockRows(QStyledItemDelegate):
    """Paints an entry in two lines: what it is, and what tells it from its like."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(120, 34 if index.data(_KEY) else 28)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(option.rect).adjusted(0, 1, -4, -1)
        state = option.state
        widgets.paint_row_ground(painter, rect, state, self.theme)
        if index.data(_KEY):
            self._entry(painter, rect, index)
        else:
            self._heading(painter, rect, index)
        painter.restore()

    def _entry(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        side = 24
        # Only what comes into sight is drawn: the window opens with a dozen of them.
        picture = symbol_icon(str(index.data(_SYMBOL)), self.theme, side)
        top = int(rect.center().y() - side / 2)
        picture.paint(painter, int(rect.left()) + 4, top, side, side)
        name, _, rest = str(index.data()).partition(", ")
        left = rect.left() + side + 12
        room = rect.right() - left - 2
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        lines = ((name, TYPE.body, self.theme.ink), (rest, TYPE.caption, self.theme.ink_muted))
        height = rect.height() / 2 if rest else rect.height()
        for at, (text, size, colour) in enumerate(lines[: 2 if rest else 1]):
            used = font(size)
            painter.setFont(used)
            painter.setPen(QColor(colour))
            shown = QFontMetricsF(used).elidedText(text, Qt.TextElideMode.ElideRight, room)
            where = QRectF(left, rect.top() + at * (height - 1) + (1 - at), room + 2, height)
            painter.drawText(where, flags, shown)

    def _heading(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        arrow: QIcon = index.data(Qt.ItemDataRole.DecorationRole)
        arrow.paint(painter, int(rect.left()) + 2, int(rect.center().y()) - 5, 11, 11)
        painter.setFont(font(TYPE.body, 600))
        painter.setPen(QColor(self.theme.ink))
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(rect.adjusted(19, 0, 0, 0), flags, str(index.data()))


class StockTree(QTreeWidget):
    """Categories with their entries; a drag carries the key of one entry."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = StockRows(theme, self)
        self.setItemDelegate(self.rows)
        self.setHeaderHidden(True)
        self.setIndentation(0)
        self.setRootIsDecorated(False)
        self.setExpandsOnDoubleClick(False)
        self.setMouseTracking(True)
        self.setIconSize(QSize(22, 22))
        self.setDragEnabled(True)
        self.setDragDropMode(QAbstractItemView.DragDropMode.DragOnly)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setAccessibleName("Stock: equipment that can be placed")
        self.setAccessibleDescription("Enter places the chosen entry in the middle of the plan")

    def startDrag(self, actions: Qt.DropAction) -> None:
        chosen = self.currentItem()
        key = chosen.data(0, _KEY) if chosen is not None else None
        if not key:
            return
        drag = QDrag(self)
        drag.setMimeData(stock_mime(key))
        picture = symbol_icon(str(chosen.data(0, _SYMBOL)), self.rows.theme, 32).pixmap(
            QSize(32, 32)
        )
        drag.setPixmap(picture)
        drag.setHotSpot(QPoint(16, 16))
        drag.exec(Qt.DropAction.CopyAction)


class StockPanel(QWidget):
    """Search field and tree."""

    place_requested = Signal(object)
    """Key of an entry to put in the middle of the plan."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self._session = session
        self._open = dict.fromkeys(categories(), True)
        self.field = QLineEdit()
        self.field.setPlaceholderText("Find equipment")
        self.field.setClearButtonEnabled(True)
        self.field.setAccessibleName("Find equipment in the stock")
        self.field.setToolTip("Any words: a name, a kind, a voltage. Down goes to the list.")
        self.field.textChanged.connect(self._fill)
        self.field.returnPressed.connect(self._first)
        self.field.installEventFilter(self)
        self.tree = StockTree(session.theme)
        self.tree.itemActivated.connect(self._activated)
        self.tree.itemClicked.connect(self._clicked)
        self.none = widgets.wrapped("", "muted")
        self.none.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 6, 6, 4)
        column.setSpacing(8)
        column.addLayout(widgets.row(self.field))
        column.addWidget(self.none)
        column.addWidget(self.tree, 1)
        self.everywhere = widgets.chip(
            "Other regions too", "Show equipment for the supply of other regions as well"
        )
        self.everywhere.toggled.connect(self._fill)
        column.addLayout(widgets.row(self.everywhere, None))
        session.theme_changed.connect(self._theme_changed)
        session.system_changed.connect(self._fill)
        session.build_changed.connect(self._build_changed)
        self._region = session.build.region
        self._fill()

    def focus_search(self) -> None:
        """Put the cursor into the search field."""
        self.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.field.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if (
            watched is self.field
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() == Qt.Key.Key_Down
        ):
            self._first_entry_current()
            self.tree.setFocus()
            return True
        return super().eventFilter(watched, event)

    def _fill(self, *_: object) -> None:
        text = self.field.text().strip()
        region = self._session.build.region
        found = [
            one
            for one in search(text)
            if self.everywhere.isChecked() or not one.regions or region in one.regions
        ]
        self.tree.clear()
        for category in categories():
            entries = [one for one in found if one.category == category]
            if not entries:
                continue
            head = QTreeWidgetItem([category])
            head.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            self.tree.addTopLevelItem(head)
            head.addChildren([self._row(one) for one in entries])
            head.setExpanded(bool(text) or self._open[category])
            self._mark(head)
        self.none.setVisible(not found)
        self.none.setText(
            f"Nothing in stock answers to '{text}'.\n\n"
            "Try a shorter word, or what it does: brew, grind, pump, drain, cool. A number "
            "such as 120 finds a voltage."
            + ("" if self.everywhere.isChecked() else " Other regions have more: see below.")
        )
        self.tree.setVisible(bool(found))

    def _row(self, one: StockEntry) -> QTreeWidgetItem:
        made = QTreeWidgetItem([one.name])
        made.setData(0, _KEY, one.key)
        made.setToolTip(0, self._tip(one))
        made.setData(0, _SYMBOL, one.symbol)
        made.setFlags(
            Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsDragEnabled
        )
        return made

    def _tip(self, one: StockEntry) -> str:
        system = self._session.system
        measures = " × ".join(show(side_m, "length", system) for side_m in one.size_m)
        mass = show(sum(each.specification.mass.si for each in one.items), "mass", system)
        module = " A module: it moves and lifts out as one." if one.is_module else ""
        return (
            f"{one.name}\n{measures} high, {mass} empty.{module}\n"
            "Drag it onto the plan, or press Enter."
        )

    def _mark(self, head: QTreeWidgetItem) -> None:
        name = "opened" if head.isExpanded() else "closed"
        head.setIcon(0, icon(name, self._session.theme))

    def _clicked(self, item: QTreeWidgetItem, _column: int) -> None:
        if item.data(0, _KEY) is None:
            self._toggle(item)

    def _toggle(self, head: QTreeWidgetItem) -> None:
        head.setExpanded(not head.isExpanded())
        if not self.field.text().strip():
            self._open[head.text(0)] = head.isExpanded()
        self._mark(head)

    def _activated(self, item: QTreeWidgetItem, _column: int) -> None:
        key = item.data(0, _KEY)
        if key:
            self.place_requested.emit(key)
        else:
            self._toggle(item)

    def _first_entry_current(self) -> None:
        head = self.tree.topLevelItem(0)
        if head is not None and head.childCount():
            self.tree.setCurrentItem(head.child(0))

    def _first(self) -> None:
        """Enter in the search field places the first entry found."""
        if self.field.text().strip():
            self._first_entry_current()
            chosen = self.tree.currentItem()
            if chosen is not None and chosen.data(0, _KEY):
                self.place_requested.emit(chosen.data(0, _KEY))

    def _build_changed(self, build: Build) -> None:
        if build.region != self._region:
            self._region = build.region
            self._fill()

    def _theme_changed(self, theme: Theme) -> None:
        self.tree.rows.theme = theme
        self._fill()
