"""Sizes that a run could have, each with what would come of it, to be chosen from."""

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QEnterEvent,
    QFocusEvent,
    QFontMetricsF,
    QHideEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QShowEvent,
)
from PySide6.QtWidgets import QVBoxLayout

from ...build import Build
from ...documents.fonts import font
from ...documents.theme import TYPE
from .. import widgets
from ..marks import paint_mark
from ..session import Session
from .fields import Editor
from .trials import AnyRun, Choice, Sizes, Trials

_PLAIN, _WITH_REASON = 24, 40
_LEFT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
_RIGHT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight


class SizeList(Editor):
    """One row a size. What is pointed at is shown on the plan; a click or Enter takes it."""

    inline = False

    def __init__(self, session: Session, run: AnyRun, sizes: Sizes) -> None:
        super().__init__()
        self._session = session
        self._run_id = run.id
        self._sizes = sizes
        self._tried: Build | None = None
        self._previewed: Build | None = None
        self._folded = False
        self.trials = Trials(session, sizes, self)
        self.trials.found.connect(self._found)
        self.words = widgets.wrapped("", "muted")
        self.rows: dict[str, SizeRow] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(1)
        self._column.addWidget(self.words)
        self.show_value(run)

    def show_value(self, value: object) -> None:
        """Try anew when something else is committed; what is only previewed changes nothing."""
        session = self._session
        run = self._run()
        if self._folded or self._tried is session.build or run is None:
            return
        self._tried = session.build
        names = self.trials.start(run)
        if tuple(self.rows) != names:
            self._rebuild(names)
        self.words.setText(self._sizes.intro if names else self._sizes.none)
        now = self._sizes.now(session.build, run)
        for name, row in self.rows.items():
            row.wait(is_now=name == now)

    def _run(self) -> AnyRun | None:
        run = self._session.build.run(self._run_id)
        return run if isinstance(run, self._sizes.sort) else None

    def _rebuild(self, names: tuple[str, ...]) -> None:
        for row in self.rows.values():
            row.hide()
            row.deleteLater()
        self.rows = {name: SizeRow(self._session, self._sizes, name) for name in names}
        for row in self.rows.values():
            row.chosen.connect(self._chosen)
            row.pointed.connect(self._pointed)
            row.left.connect(self._left)
            row.stepped.connect(self._stepped)
            self._column.addWidget(row)

    def _found(self, choice: Choice) -> None:
        row = self.rows.get(choice.name)
        if row is not None:
            row.show_choice(choice)

    def _pointed(self, name: object) -> None:
        session = self._session
        run = self._run()
        if run is None or (session.previewing and not self.previews):
            return
        build = self._sizes.taken(session, run, str(name))
        if build is session.build:
            self._left(name)
            return
        self._previewed = build
        session.preview(build)

    def _left(self, _name: object) -> None:
        if self.previews:
            self._session.cancel_preview()
        self._previewed = None

    @property
    def previews(self) -> bool:
        """Whether what is shown is one of its sizes, pointed at."""
        return self._previewed is not None and self._session.shown is self._previewed

    def _stepped(self, name: object, step: object) -> None:
        names = list(self.rows)
        at = names.index(str(name)) + (1 if step == 1 else -1)
        if 0 <= at < len(names):
            self.rows[names[at]].setFocus(Qt.FocusReason.TabFocusReason)

    def _chosen(self, name: object) -> None:
        session = self._session
        run = self._run()
        if run is None:
            return
        build = self._sizes.taken(session, run, str(name))
        if build is session.build:
            session.cancel_preview()
            session.tell(f"{name} is what is there.")
            return
        if self.previews and session.shown == build:
            build = session.shown  # so that its answer need not be worked out again
        self._previewed = None
        session.apply(self._sizes.step.format(name=name), build)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._left("")
        self._folded = True
        self.trials.stop()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._folded:
            self._folded, self._tried = False, None
            self.show_value(None)


class SizeRow(widgets.ChoosableRow):
    """One size."""

    pointed = Signal(object)
    left = Signal(object)
    stepped = Signal(object, object)

    def __init__(self, session: Session, sizes: Sizes, name: str) -> None:
        super().__init__()
        self._session = session
        self._sizes = sizes
        self.name = name
        self.tried: Choice | None = None
        self._is_now = False
        self._under = False
        self.setFixedHeight(_PLAIN)
        self.setAccessibleName(name)

    def sizeHint(self) -> QSize:
        return QSize(240, self.height())

    def choice_text(self) -> str:
        """The numbers at its right."""
        tried = self.tried
        return "" if tried is None else self._sizes.numbers(tried, self._session.system)

    def wait(self, *, is_now: bool) -> None:
        """Something else is committed: what is shown is old until it has been tried anew."""
        self._is_now = is_now
        self.update()

    def show_choice(self, choice: Choice) -> None:
        """Show what came of trying it."""
        self.tried, self._is_now = choice, choice.is_now
        self.setFixedHeight(_PLAIN if choice.reason is None else _WITH_REASON)
        words = self._sizes.words(choice, self._session.system)
        now = " It is what is there." if choice.is_now else ""
        self.setAccessibleName(f"{words}.{now}")
        self.setToolTip(f"{words}.{now}")
        self.update()

    def choice(self) -> object:
        return self.name

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self._under = True
        self.pointed.emit(self.name)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._under = False
        self.left.emit(self.name)
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.pointed.emit(self.name)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.left.emit(self.name)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.stepped.emit(self.name, 1 if event.key() == Qt.Key.Key_Down else -1)
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit(self.name)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._session.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        whole = QRectF(self.rect()).adjusted(0.75, 0.75, -0.75, -0.75)
        if self._is_now or self._under:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.selection_tint if self._is_now else theme.track))
            painter.drawRoundedRect(whole, 4, 4)
        plain = font(TYPE.caption, tabular=True)
        numbers = "…" if self.tried is None else self.choice_text()
        room = self.width() - QFontMetricsF(plain).horizontalAdvance(numbers) - 36
        strong = font(TYPE.caption, 600 if self._is_now else 400)
        painter.setFont(strong)
        painter.setPen(QColor(theme.ink))
        name = QFontMetricsF(strong).elidedText(self.name, Qt.TextElideMode.ElideRight, room)
        painter.drawText(QRectF(23, 0, room, _PLAIN), _LEFT, name)
        painter.setFont(plain)
        painter.drawText(QRectF(23, 0, self.width() - 29, _PLAIN), _RIGHT, numbers)
        if self.tried is not None:
            self._paint_verdict(painter, self.tried, QFontMetricsF(plain))
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.selection), 1.5))
            painter.drawRoundedRect(whole, 4, 4)
        painter.end()

    def _paint_verdict(self, painter: QPainter, tried: Choice, metrics: QFontMetricsF) -> None:
        mark = self._session.theme.mark(tried.verdict)
        if tried.reason is not None:
            room = self.width() - 29
            words = tried.reason.shown(self._session.system)
            reason = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)
            painter.setPen(QColor(mark.ink))
            painter.drawText(QRectF(23, 20, room, 17), _LEFT, reason)
        paint_mark(painter, mark, QRectF(5, 6, 12, 12))
