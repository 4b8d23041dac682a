"""The tubes that fit, in the context menu of a run: tried while the menu is open."""

from PySide6.QtWidgets import QWidget

from ...build import TubeRun
from ..session import Session
from .size_menu import SizeMenu
from .tube_trials import TUBES


class TubeMenu(SizeMenu):
    """Previews what the mouse or the arrows point at; a click makes the exchange."""

    def __init__(self, session: Session, run: TubeRun, parent: QWidget) -> None:
        super().__init__(session, run, TUBES, parent)
