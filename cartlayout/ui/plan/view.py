"""The plan: what is drawn can be dragged, joined, turned, and looked at from near and far."""

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QContextMenuEvent,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QShowEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView, QWidget

from ...analysis import Analysis
from ...build import Build, Item
from ...build.edits import EditError
from ...documents.plan import Box, PlanOptions, plan_picture
from ...documents.plan.picture import OVERLAYS
from ..selection import Selection
from ..session import Session
from . import accessible, keys
from .before import Before
from .bends import remove_bend
from .boxes import Boxes
from .camera import STEP, Camera
from .cart_edit import CartEdit
from .exposure import Exposure
from .gestures import Gesture, Trace
from .handles import Handle, bend_handles, plug_handles, port_handles, solid
from .landing import Landing
from .menu_open import open_menu
from .mouse import Mouse
from .outlook import Outlook
from .paper import Paper
from .pulse import Pulse
from .run_words import refresh_words
from .scene import PlanScene
from .speech import selection_in_words
from .turning import turn_handles

FIT_ROOMS = (1.0, 1.0, 1.05, 1.1, 1.18, 1.3)
"""The plan is fitted twice, because its labels count in pixels, then with ever more room."""
FIT_LARGE = (1.05,)
FRAME_INSET_PX = 4.0
MOST_WITH_PORTS = 3
"""So many selected items show their ports; more would be a rash."""


class PlanView(QGraphicsView):
    """Shows the session's build from above and lets it be changed with mouse and keyboard."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        accessible.install()
        self.session = session
        self.camera = Camera(self)
        self.plan = PlanScene(session.theme, self)
        self.setScene(self.plan)
        self.outlook = Outlook(self)
        self.paper = Paper(self)
        self.mouse = Mouse(self)
        self.landing = Landing(self)
        self.boxes = Boxes(self)
        self.cart_edit = CartEdit(self)
        self.before = Before(self)
        self.active_bend: tuple[str, int] | None = None
        """Run id and index of the bend that Delete takes away."""
        self.refreshes = 0
        """How often the picture was made anew; tests count."""
        self._fitted = False
        self._keeps_fit = True
        self.pulse = Pulse(self.plan, self)
        self._prepare_widget()
        self._connect()
        self._refresh()

    def _prepare_widget(self) -> None:
        self.setObjectName("plan")
        self.setAccessibleName("Plan of the cart")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.viewport().setMouseTracking(True)
        self.setAcceptDrops(True)
        self.setMinimumSize(320, 220)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.DefaultContextMenu)

    def _connect(self) -> None:
        session = self.session
        session.analysis_changed.connect(self._analysis_changed)
        session.drawn_changed.connect(self._analysis_changed)
        session.build_changed.connect(self._build_changed)
        session.document_changed.connect(self._document_changed)
        session.level_changed.connect(self._look_changed)
        session.isolated_changed.connect(self._look_changed)
        session.overlays_changed.connect(self._look_changed)
        session.case_changed.connect(self._look_changed)
        session.system_changed.connect(self._look_changed)
        session.theme_changed.connect(self._theme_changed)
        session.selection_changed.connect(self._selection_changed)
        session.show_requested.connect(self._show_requested)

    # What others call

    @property
    def pixels_per_m(self) -> float:
        """Scale of the view."""
        return self.camera.scale * 1000.0

    @property
    def gesture(self) -> Gesture | None:
        """The drag that is going on, or None."""
        return self.mouse.gesture

    @property
    def selected_items(self) -> frozenset[str]:
        """Ids of the selected items."""
        return frozenset(self.session.selection.items)

    @property
    def selected_runs(self) -> frozenset[str]:
        """Ids of the selected wires and tubes."""
        return frozenset(self.session.selection.runs)

    @property
    def drawn_runs(self) -> frozenset[str]:
        """Ids of the runs that the chosen overlays show."""
        return frozenset(self.plan.runs)

    def fit(self) -> None:
        """Show the whole plan."""
        self._keeps_fit = True
        # Labels take room in pixels: the plan gives way until they all are in sight.
        # A large plan takes one step: around it there is room enough.
        for room in FIT_LARGE if self.plan.is_large else FIT_ROOMS:
            self.camera.fit(self.plan.extent(), room)
            self._zoomed()
            self.outlook.settle()
            if self.plan.labels_in_frame():
                break

    def zoom_in(self) -> None:
        """Come nearer to the middle."""
        self._zoom(STEP, QPointF(self.viewport().rect().center()))

    def zoom_out(self) -> None:
        """Go further from the middle."""
        self._zoom(1.0 / STEP, QPointF(self.viewport().rect().center()))

    def shift(self, dx_m: float, dy_m: float) -> None:
        """Move the paper."""
        self._keeps_fit = False
        self.camera.shift(dx_m, dy_m)
        self.paper.moved()
        self.outlook.moved()

    def show_items(self, ids: tuple[str, ...], runs: tuple[str, ...] = ()) -> None:
        """Select things, bring them into sight on their level, and ring them for a moment."""
        self.session.show_on_plan(Selection(items=tuple(ids), runs=tuple(runs)))

    def place_stock(self, key: str) -> None:
        """Place a stock entry at the free spot nearest to the middle of the view."""
        if self.landing.place(key):
            self.reveal(self.session.selection)

    # What gestures call

    def trace(self, trace: Trace) -> None:
        """Draw what a drag shows over the plan."""
        self.plan.trace.show_trace(trace)

    def say(self, text: str) -> None:
        """A sentence beside the mouse; empty takes it away."""
        x, y = self.camera.to_metres(self.mouse.at)
        self.plan.trace.show_tip(text, QPointF(x * 1000.0, y * 1000.0))

    def choose(self, items: frozenset[str], runs: frozenset[str], *, alone: bool = False) -> None:
        """Select, in the order of the build."""
        build = self.session.shown
        self.session.select(
            Selection(
                items=tuple(item.id for item in build.items if item.id in items),
                runs=tuple(run.id for run in build.runs if run.id in runs),
                alone=alone,
            )
        )

    def is_solid(self, item: Item) -> bool:
        """Whether an item stands on the shown level, or is of the venue's."""
        return solid(item, self.session.level)

    def cancel_gesture(self) -> None:
        """Escape: everything is as it was before the drag."""
        self.mouse.cancel()

    def set_active_bend(self, bend: tuple[str, int] | None) -> None:
        """The bend that Delete takes away: run id and index."""
        if bend != self.active_bend:
            self.active_bend = bend
            self.update_handles()

    def remove_active_bend(self) -> bool:
        """Delete the bend that was clicked last. False: there is none."""
        if self.active_bend is None:
            return False
        run_id, index = self.active_bend
        self.active_bend = None
        try:
            self.session.apply("Remove bend", remove_bend(self.session.build, run_id, index))
        except EditError:
            return False
        return True

    def reveal(self, selection: Selection) -> None:
        """Scroll if none of it is in sight."""
        seen = self.camera.seen()
        polygons = [self.plan.polygon(one) for one in selection.items]
        polygons += [self.plan.line(one) for one in selection.runs]
        boxes = [polygon.boundingRect() for polygon in polygons if not polygon.isEmpty()]
        if not boxes:
            return
        whole = boxes[0]
        for box in boxes[1:]:
            whole = whole.united(box)
        if not all(seen.contains(box.center()) for box in boxes):
            if whole.width() > seen.width() or whole.height() > seen.height():
                self.camera.fit(whole)
                self._zoomed()
            else:
                self.camera.centre(whole.center())
                self.paper.moved()

    # What the session says

    def _analysis_changed(self, _analysis: Analysis) -> None:
        self._refresh()

    def _build_changed(self, _build: Build) -> None:
        self.boxes.close()
        # An undo in mid-drag: what is dragged was taken from a build that is no more.
        if self.gesture is not None:
            self.mouse.cancel()

    def _document_changed(self, _build: Build) -> None:
        self.boxes.close()
        self.mouse.forget()
        self.active_bend = None
        self._fitted = False

    def _look_changed(self, _value: object) -> None:
        self._refresh()

    def _theme_changed(self, _theme: object) -> None:
        self.outlook.settle()
        self.paper.theme_changed()
        self.viewport().update()

    def _selection_changed(self, selection: Selection) -> None:
        self.boxes.close()
        if self.active_bend is not None and self.active_bend[0] not in selection.runs:
            self.active_bend = None
        self.plan.show_selection(selection)
        self.pulse.selection_changed(selection)
        self.update_handles()
        self._describe()
        accessible.announce(self)

    def _show_requested(self, selection: Selection) -> None:
        build = self.session.shown
        levels = [item.level for item in build.items if item.id in selection.items]
        levels += [
            item.level
            for run in build.runs
            if run.id in selection.runs
            for end in (run.a, run.b)
            if end is not None and (item := build.item(end.item)) is not None
        ]
        wanted = [level for level in levels if build.cart.level(level) is not None]
        if wanted and self.session.level not in wanted:
            self.session.set_level(wanted[0])
        self.reveal(selection)
        self.pulse.ring(selection)

    # Drawing

    def _refresh(self) -> None:
        session = self.session
        self.refreshes += 1
        options = PlanOptions(
            level=session.level,
            overlays=frozenset(one for one in OVERLAYS if one in session.overlays),
            system=session.system,
            case=session.case,
            empty_venue=True,
            isolated=session.isolated,
        )
        analysis = session.drawn
        build = analysis.build
        self.outlook.refreshed()
        picture = plan_picture(build, analysis, options, self.plan.picture)
        self.plan.show_picture(picture, session.selection, carries=not analysis.whole)
        self.before.refreshed()
        self.paper.refresh(build, session.system)
        if not self._fitted and self.isVisible():
            self._fitted = True
            self.fit()
        self.landing.refreshed()
        self.update_handles()
        self._describe()
        accessible.tidy(self)

    def _describe(self) -> None:
        if self.plan.picture is None:
            return
        session = self.session
        words = selection_in_words(
            session.analysis.build,
            session.analysis,
            self.plan.picture,
            session.selection,
            session.system,
        )
        if self.cart_edit.on:
            words = self.cart_edit.words()
        if words != self.accessibleDescription():
            self.setAccessibleDescription(words)
            QAccessible.updateAccessibility(
                QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
            )

    def update_handles(self) -> None:
        """Show what can be taken hold of: ports of what is hovered or selected, plugs, bends."""
        self.cart_edit.refresh()
        refresh_words(self)
        build = self.session.drawn.build
        scale = self.pixels_per_m
        handles: tuple[Handle, ...] = ()
        hovered = self.mouse.hovered
        drags = self.gesture is not None and self.gesture.kind != "bend"
        if not drags and not self.cart_edit.on:
            chosen = set(self.session.selection.items[:MOST_WITH_PORTS])
            if hovered.item and hovered.kind in ("body", "handle"):
                chosen.add(hovered.item)
            runs = {*self.session.selection.runs, *([hovered.run] if hovered.run else [])}
            letters = {
                run.id: run.letter
                for run in (self.plan.picture.runs if self.plan.picture else ())
                if run.medium == "power"
            }
            handles = (
                *port_handles(build, chosen, scale),
                *plug_handles(build, letters, self.session.level, runs, scale),
                *bend_handles(build, runs),
                *turn_handles(
                    build, self.session.selection.items, scale, alone=self.session.selection.alone
                ),
            )
        self.plan.handles.show_handles(handles, hovered.handle, self.active_bend)

    def _zoom(self, factor: float, at: QPointF) -> None:
        if self.camera.zoom(factor, at):
            self._keeps_fit = False
            self._zoomed()

    def frame(self) -> Box | None:
        """What labels have to stay within: all that is seen, while that is the whole plan."""
        if not self._keeps_fit:
            return None
        seen = self.camera.seen()
        inset = FRAME_INSET_PX / self.camera.scale
        return Box(seen.x(), seen.y(), seen.width(), seen.height()).grown(-inset)

    def _zoomed(self) -> None:
        self.outlook.zoomed()
        self.paper.moved()
        self.update_handles()

    def paintEvent(self, event: QPaintEvent) -> None:
        self.plan.exposure = Exposure(event.region(), self.viewportTransform())
        super().paintEvent(event)
        self.plan.exposure = None

    def drawBackground(self, painter: QPainter, area: QRectF | QRect) -> None:
        self.paper.paint_grid(painter, QRectF(area))

    # Mouse: see mouse.py

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        self.boxes.close()
        self.mouse.press(event)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.mouse.move(event)
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.mouse.release(event)
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.mouse.double_click(event.position())
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        self.mouse.left()
        super().leaveEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        steps = event.angleDelta().y() / 120.0
        if steps:
            self._zoom(STEP**steps, event.position())
        event.accept()

    # Keyboard

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.mouse.panning_key = True
            self.mouse.update_cursor()
            event.accept()
        elif event.key() == Qt.Key.Key_Space or keys.pressed(self, event):
            event.accept()
        else:
            event.ignore()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.mouse.panning_key = False
            self.mouse.update_cursor()
        event.accept()

    def focusNextPrevChild(self, forwards: bool) -> bool:
        if self.gesture is None and keys.walk(self, 1 if forwards else -1):
            return True
        return QWidget.focusNextPrevChild(self, forwards)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.paper.show_focus(event.reason())
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.paper.hide_focus()
        self.mouse.panning_key = False
        super().focusOutEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if self.gesture is None:
            open_menu(self, event)
        event.accept()

    # Stock that is dragged in: see landing.py

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self.landing.entered(event)

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        self.landing.moved(event)

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self.landing.left()
        event.accept()

    def dropEvent(self, event: QDropEvent) -> None:
        self.landing.dropped(event)

    # Size

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self._fitted:
            self._fitted = True
            self.fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.cart_edit.resized()
        if self._fitted and self._keeps_fit and self.isVisible():
            self.fit()  # nobody has looked closer yet: all of it stays in sight
        self.paper.moved()
