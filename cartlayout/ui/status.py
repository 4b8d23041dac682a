"""The line at the foot: the state of the build, what is told, and the caution."""

from PySide6.QtCore import QSize, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QStatusBar, QWidget

from ..analysis import Analysis
from ..documents.caution import CAUTION
from ..units import UnitSystem, counted, show
from .session import Session
from .widgets import ElidedLabel

_TOLD_MS = 8000
_TOLD_PX = 150
"""The caution takes a shorter wording before the state of the build has less."""
_CAUTIONS = (
    CAUTION,
    "Planning aid only. Electrician, plumber and local code decide.",
    "Planning aid, not an approval.",
)


class FittingLabel(QLabel):
    """The longest of several wordings that there is room for."""

    def __init__(self, wordings: tuple[str, ...], parent: QWidget | None = None) -> None:
        super().__init__(wordings[0], parent)
        self._wordings = wordings

    def sizeHint(self) -> QSize:
        return QSize(self._room(self._wordings[0]), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self._room(self._wordings[-1]), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        fits = (one for one in self._wordings if self._room(one) <= self.width())
        wording = next(fits, self._wordings[-1])
        if wording != self.text():
            self.setText(wording)

    def _room(self, wording: str) -> int:
        return self.fontMetrics().horizontalAdvance(wording) + 20


class StatusLine(QStatusBar):
    """Says what the session says, for a while; else the build in one line."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._says_state = True
        self.counts = ElidedLabel()
        self.counts.setMinimumWidth(_TOLD_PX)
        self.caution = FittingLabel(_CAUTIONS)
        self.caution.setToolTip(
            f"{CAUTION} Electricity and water can hurt people. Nothing here is an approval; "
            "check every figure against nameplates and makers' sheets."
        )
        self.setSizeGripEnabled(False)
        self.addWidget(self.counts, 1)
        self.addPermanentWidget(self.caution)
        self.told = QTimer(self)
        self.told.setSingleShot(True)
        self.told.setInterval(_TOLD_MS)
        self.told.timeout.connect(self.untell)
        session.told.connect(self.tell)
        session.analysis_changed.connect(self.refresh)
        session.system_changed.connect(self.refresh)
        session.working_changed.connect(self.refresh)
        self.refresh()

    def tell(self, sentence: str) -> None:
        """Say a sentence for a while."""
        self.counts.set_whole(sentence)
        self.told.start()

    def untell(self) -> None:
        """Go back to the state of the build."""
        self.told.stop()
        self.refresh()

    def refresh(self, *_: object) -> None:
        """The state of the build, unless something is being told."""
        if not self.told.isActive():
            session = self._session
            line = state_line(session.analysis, session.power_case, session.system)
            if session.works:
                line = f"Working out {len(session.shown.items)} items … · {line}"
            self.counts.set_whole(line if self._says_state else "")

    def say_state(self, on: bool) -> None:
        """Whether there is a build whose state can be said."""
        self._says_state = on
        self.refresh()


def state_line(analysis: Analysis, power_case: str, system: UnitSystem) -> str:
    """The build in one line: circuits, amps, taps, highest static pressure, time to solve."""
    power, water = analysis.power, analysis.water
    amps = sum(
        circuit.amps.get(power_case, 0.0) for circuit in power.circuits if circuit.parent is None
    )
    parts = [
        counted(len(power.circuits), "circuit"),
        show(amps, "current", system),
        counted(len(water.taps), "tap"),
    ]
    fed = [tap.static_pa for tap in water.taps if tap.fed]
    if fed:
        parts.append(f"{show(max(fed), 'pressure', system)} static")
    parts.append(f"solved in {max(1, round(analysis.seconds * 1000))} ms")
    return " · ".join(parts)


def verdict(analysis: Analysis) -> str:
    """How many findings there are to stop for and to take care of; empty: neither."""
    counts = (
        (sum(one.severity == "stop" for one in analysis.findings), "to stop for"),
        (sum(one.severity == "care" for one in analysis.findings), "to take care of"),
    )
    return ", ".join(f"{count} {words}" for count, words in counts if count)
