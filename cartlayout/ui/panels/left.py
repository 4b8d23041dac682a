"""The panel at the left: what can be placed, and what stands on the cart already."""

from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from .. import widgets


class LeftPanel(QWidget):
    """Pages of which one is seen, chosen by its name at the top."""

    def __init__(self, pages: dict[str, QWidget], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self.head = QHBoxLayout()
        self.head.setContentsMargins(12, 8, 4, 0)
        self.head.setSpacing(0)
        self.pages = QStackedWidget()
        self.tabs: dict[str, QToolButton] = {}
        names = tuple(pages)
        for at, name in enumerate(names):
            self.pages.addWidget(pages[name])
            if len(names) == 1:
                self.head.addWidget(widgets.label(name, "heading"))
            else:
                end = {0: "first", len(names) - 1: "last"}.get(at, "")
                tab = widgets.segment(name, end, f"Show the list: {name}")
                tab.clicked.connect(self._tab_clicked)
                self.tabs[name] = tab
                self.head.addWidget(tab)
        self.head.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self.head)
        column.addWidget(self.pages, 1)
        self.show_page(names[0])

    @property
    def page(self) -> str:
        """Name of the page that is seen."""
        return next(
            (name for name, tab in self.tabs.items() if tab.isChecked()), next(iter(self.tabs), "")
        )

    def show_page(self, name: str) -> None:
        """Show a page; a name there is none of changes nothing."""
        if name in self.tabs:
            self.tabs[name].setChecked(True)
            self.pages.setCurrentIndex(list(self.tabs).index(name))

    def _tab_clicked(self) -> None:
        for name, tab in self.tabs.items():
            if tab is self.sender():
                self.show_page(name)
