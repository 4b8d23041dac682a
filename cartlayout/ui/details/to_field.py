"""Leads to one field in Details: unfolds its section, scrolls to it, puts the cursor into it."""

from collections.abc import Iterator

from PySide6.QtCore import QCoreApplication, QEvent, Qt, QTimer
from PySide6.QtWidgets import QLineEdit, QWidget

from .fields import Editor
from .pages import Page
from .panel import DetailsPanel
from .views import Section

_OF_SPECIFICATION = {"electrical": "Electrical", "water": "Water", "ports": "Ports"}
_OF_BUILD = {"service": "Service", "venue": "Venue"}


def show_field(panel: DetailsPanel, path: tuple[str, ...]) -> bool:
    """Put the cursor into a field of what is selected.

    Args:
        panel: the details, already on the page of the item, the run or the build.
        path: names of the document's fields that lead to it, with numbers in lists.

    Returns:
        Whether there is such a field on the page.
    """
    page = panel.page
    if page is None or not path:
        return False
    panel.show()
    for section in _sections(page, path):
        section.open()
        editor = _field(section, path)
        if editor is not None:
            _focus(panel, editor)
            return True
    return False


def _sections(page: Page, path: tuple[str, ...]) -> Iterator[Section]:
    """Those that may hold a field; where nothing says which, all of the page."""
    title = _OF_BUILD.get(path[0], "")
    if path[0] == "specification" and len(path) > 1:
        title = _OF_SPECIFICATION.get(path[1], "Body")
    if title in page.sections:
        yield page.sections[title]
    elif not title:
        yield from page.sections.values()


def _field(section: Section, path: tuple[str, ...]) -> Editor | None:
    """The editor of the last name; of the part with that number where there are several."""
    if section.editor is None:
        return None
    names = [one for one in path if not one.isdigit()]
    numbers = [int(one) for one in path if one.isdigit()]
    found = [
        one for one in section.editor.findChildren(Editor) if one.property("field") == names[-1]
    ]
    if not found:
        return None
    at = numbers[-1] if numbers and numbers[-1] < len(found) else 0
    return found[at]


def _focus(panel: DetailsPanel, editor: Editor) -> None:
    target: QWidget = editor.findChild(QLineEdit) or editor
    target.setFocus(Qt.FocusReason.ShortcutFocusReason)
    if isinstance(target, QLineEdit):
        target.selectAll()
    _bring_up(panel, target)
    # A section that was unfolded just now has its height once the window has come to rest.
    QTimer.singleShot(0, panel, lambda: _bring_up(panel, target))


def _bring_up(panel: DetailsPanel, target: QWidget) -> None:
    area = panel.area
    QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
    area.body.resize(area.body.width(), area.body.sizeHint().height())
    area.column.activate()
    area.ensureWidgetVisible(target, 0, 60)
