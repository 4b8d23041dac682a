"""Remedies: of one finding, and of everything that can be mended."""

from typing import TYPE_CHECKING

from ...findings import Finding
from ..entries import Choice, Choices, Entry, Listed
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def mend(window: "MainWindow") -> None:
    """Find a few changes that clear what can be cleared."""
    window.remedies.mend()


def findings(window: "MainWindow") -> tuple[Choice, ...]:
    """What there is to mend, the worst first."""
    session = window.session
    return tuple(
        Choice(one.title.shown(session.system), one, one.detail.shown(session.system))
        for one in session.settled.findings
        if one.severity != "note"
    )


def _show(window: "MainWindow", finding: object) -> None:
    if isinstance(finding, Finding):
        window.show_panel("findings")
        window.remedies.show(finding)


def _has_stops(session: Session) -> bool:
    return session.settled.count("stop") > 0


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "findings.mend",
        "&Mend What Can Be Mended…",
        mend,
        "Edit",
        8,
        ("Ctrl+Shift+R",),
        "Find a few changes that clear every stop they can, see them, and make them as one step",
        "fix repair remedy remedies solve stops findings automatic",
        enabled=_has_stops,
        needs="There is nothing to stop for.",
    ),
    Choices(
        "findings.remedies",
        "Remedie&s For",
        findings,
        _show,
        "Edit",
        8,
        "What takes a finding away, tried and with its number",
        "Remedies for",
        "Nothing to mend",
    ),
)
