"""Where the context menu comes up: at the mouse, or at what is selected."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QContextMenuEvent

from .menu import make_menu

if TYPE_CHECKING:
    from .view import PlanView


def open_menu(view: "PlanView", event: QContextMenuEvent) -> None:
    """Open the menu that fits what was clicked, or what the menu key was pressed on."""
    by_mouse = event.reason() == QContextMenuEvent.Reason.Mouse
    handle = view.mouse.hit(QPointF(event.pos())).handle if by_mouse else None
    where = event.globalPos()
    if not by_mouse:
        where = view.viewport().mapToGlobal(middle_of_selection(view).toPoint())
    at = view.camera.to_metres(QPointF(view.viewport().mapFromGlobal(where)))
    on_tube = at if by_mouse else None
    menu = view.cart_edit.menu(at) if view.cart_edit.on else make_menu(view, handle, on_tube)
    menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    menu.popup(where)


def middle_of_selection(view: "PlanView") -> QPointF:
    """In the viewport: on the first item or run that is selected, else in the middle of it."""
    if view.cart_edit.on:
        return view.cart_edit.middle_of_selection()
    session = view.session
    for one in session.selection.items:
        item = session.build.item(one)
        if item is not None:
            return view.camera.to_viewport((item.x.si, item.y.si))
    for one in session.selection.runs:
        points = view.plan.lines.get(one)
        if points:
            return view.camera.to_viewport(points[len(points) // 2])
    return QPointF(view.viewport().rect().center())
