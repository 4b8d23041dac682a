"""Tubes tried one after the other, one a turn of the event loop, so that the window stays alive."""

from PySide6.QtCore import QObject, QTimer, Signal

from ...advice.tube_sizes import TubeChoice, try_tube, tube_names
from ...build import TubeRun
from ...units import UnitSystem, show
from ..session import Session


class TubeTrials(QObject):
    """What each tube that fits would bring."""

    found = Signal(object)
    """A `TubeChoice`."""

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._run: TubeRun | None = None
        self._waiting: list[str] = []
        self._turn = QTimer(self)
        self._turn.setSingleShot(True)
        self._turn.setInterval(0)
        self._turn.timeout.connect(self._next)

    @property
    def works(self) -> bool:
        """Whether there are tubes still to be tried."""
        return bool(self._waiting)

    def start(self, run: TubeRun) -> tuple[str, ...]:
        """Try all tubes that fit a run of what is committed; their names come at once."""
        self._run = run
        names = tube_names(self._session.build, run)
        self._waiting = list(names)
        self._turn.start()
        return names

    def stop(self) -> None:
        """No more."""
        self._waiting = []
        self._turn.stop()

    def _next(self) -> None:
        session, run = self._session, self._run
        if not self._waiting or run is None:
            return
        if session.settled.build is not session.build:
            self._turn.start()  # the answer to what is committed is still to come
            return
        name = self._waiting.pop(0)
        self.found.emit(try_tube(session.settled, run, name))
        if self._waiting:
            self._turn.start()


def choice_numbers(choice: TubeChoice, system: UnitSystem) -> str:
    """Such as "36.1 psi · 2.1 ft/s"; for a drain what it carries."""
    if choice.tap:
        pressure = show(choice.pressure_pa, "pressure", system)
        return f"{pressure} · {show(choice.velocity_m_s, 'velocity', system)}"
    if choice.half_full > 0.0:
        return f"carries {show(choice.half_full, 'flow', system)}"
    return ""


def choice_words(choice: TubeChoice, system: UnitSystem) -> str:
    """The whole of it in a sentence or two."""
    verdict = choice.reason.shown(system) if choice.reason is not None else "holds"
    if not choice.tap:
        numbers = choice_numbers(choice, system)
        return f"{choice.name}: {numbers + ', ' if numbers else ''}{verdict}"
    return (
        f"{choice.name}: {choice.tap} has {show(choice.pressure_pa, 'pressure', system)} and "
        f"{show(choice.flow, 'flow', system)} ({choice.case}), "
        f"{show(choice.velocity_m_s, 'velocity', system)} in the tube; {verdict}"
    )
