"""The panel at the right: a page for whatever is selected."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from ...build import Gauge
from .. import widgets
from ..gauges import GaugesView
from ..selection import Selection
from ..session import Session
from ..typical import marks_of
from .cart_page import CartPage, PartPage
from .pages import USUALLY_OPEN, BuildPage, ItemPage, Page
from .run_page import RunPage
from .several import SeveralPage

Subject = tuple[object, ...]


class DetailsPanel(QWidget):
    """Shows and edits the selection; with nothing selected, the cart as a whole."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self.setAccessibleName("Details")
        self._session = session
        self._subject: Subject = ()
        self._opened = dict(USUALLY_OPEN)
        self.page: Page | None = None
        self.gauges: GaugesView | None = None
        """Beneath the facts, where gauges are selected."""
        self.heading = widgets.wrapped("", "heading")
        self.remark = widgets.wrapped("", "muted")
        self.area = widgets.ColumnArea(spacing=6)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 6, 4)
        column.setSpacing(2)
        self.head = widgets.row(self.heading)
        column.addLayout(self.head)
        column.addWidget(self.remark)
        column.addSpacing(6)
        column.addWidget(self.area, 1)
        session.selection_changed.connect(self._selection_changed)
        session.build_changed.connect(self._refresh)
        session.analysis_changed.connect(self._refresh)
        session.system_changed.connect(self._refresh)
        session.case_changed.connect(self._refresh)
        session.theme_changed.connect(self._theme_changed)
        marks_of(session).changed.connect(self._refresh)
        session.editing_cart_changed.connect(self._editing_changed)
        session.document_changed.connect(self._document_changed)
        session.label_requested.connect(self._label_requested)
        session.fields_requested.connect(self._fields_requested)
        self._selection_changed(session.selection)

    def _selection_changed(self, selection: Selection) -> None:
        subject = self._subject_of(selection)
        if subject != self._subject or self.page is None:
            self._subject = subject
            self._show(self._new_page(selection))

    def _editing_changed(self, *_: object) -> None:
        self._selection_changed(self._session.selection)

    def _subject_of(self, selection: Selection) -> Subject:
        """What a page is about; sorts that make a page of another shape are part of it."""
        build = self._session.build
        if len(selection.items) == 1:
            return ("item", selection.items[0])
        if not selection.items and len(selection.runs) == 1:
            run = build.run(selection.runs[0])
            return ("run", selection.runs[0], type(run))
        if selection.items:
            return ("several", selection)
        if selection.parts:
            return ("parts", selection.parts)
        if self._session.editing_cart:
            return ("cart",)
        return ("runs", selection) if selection.runs else ("build",)

    def _new_page(self, selection: Selection) -> Page:
        session = self._session
        build = session.shown
        if len(selection.items) == 1:
            item = build.item(selection.items[0])
            if item is not None:
                return ItemPage(session, self._opened, item)
        elif selection.items:
            return SeveralPage(session, self._opened, selection)
        elif selection.runs:
            run = build.run(selection.runs[0])
            if run is not None:
                return RunPage(session, self._opened, run)
        elif selection.parts:
            return PartPage(session, self._opened, selection)
        elif session.editing_cart:
            return CartPage(session, self._opened)
        return BuildPage(session, self._opened)

    def _show(self, page: Page) -> None:
        self.area.clear()
        self.page, self.gauges = page, None
        page.heading_changed.connect(self._show_heading)
        page.refresh()
        self._show_gauges(page)
        self.area.add(page)
        self.area.verticalScrollBar().setValue(0)

    def _show_heading(self, title: str, remark: str) -> None:
        self.heading.setText(title)
        self.remark.setText(remark)

    def _refresh(self, *_: object) -> None:
        if self._subject_of(self._session.selection) != self._subject:
            return  # the selection is about to follow
        if self.page is not None:
            self.page.refresh()
            self._show_gauges(self.page)

    def _show_gauges(self, page: Page) -> None:
        shown = self._session.shown
        chosen = (shown.item(one) for one in self._session.selection.items)
        ids = tuple(
            one.id
            for one in chosen
            if one is not None and isinstance(one.specification.water, Gauge)
        )
        if self.gauges is not None and self.gauges.ids != ids:
            self.gauges.hide()
            self.gauges.deleteLater()
            self.gauges = None
        if self.gauges is not None:
            self.gauges.refresh()
        elif ids:
            self.gauges = GaugesView(self._session, ids)
            page.column.insertWidget(page.column.indexOf(page.ladder) + 1, self.gauges)

    def _theme_changed(self, *_: object) -> None:
        if self.page is not None:
            self.page.ink()
            self.page.refresh()
            self._show_gauges(self.page)

    def _document_changed(self, *_: object) -> None:
        self._subject = ()

    def _label_requested(self, item_id: str) -> None:
        self._session.select(Selection(items=(item_id,)))
        if isinstance(self.page, ItemPage):
            self.show()
            self.page.focus_label()

    def _fields_requested(self, _selection: Selection) -> None:
        if self.page is not None:
            self.show()
            self.page.focus_first()
