"""The cords a wire could have, each with the volts that would come of it, to be chosen from."""

from typing import cast

from PySide6.QtWidgets import QWidget

from ...advice.cord_sizes import CordChoice, cord_names, cord_of, same_size, try_cord, with_cord
from ...analysis import Analysis
from ...build import Build, Wire
from ...units import ConductorSize, UnitSystem, show, show_pair
from ..session import Session
from .size_menu import SizeMenu
from .sizes import SizeList
from .trials import AnyRun, Choice, Sizes


class Cords(Sizes):
    """Sizes of cord in the region's measures that the plug takes."""

    sort = Wire
    step = "Change cord to {name}"
    intro = (
        "Volts at the appliance that loses most, its loss, and amps against what the cord may "
        "carry, with everything on. Point at one to see it on the plan; a click or Enter takes it."
    )
    none = "No cord is known that goes into its plug."

    def names(self, build: Build, run: AnyRun) -> tuple[str, ...]:
        return cord_names(build, cast(Wire, run))

    def now(self, build: Build, run: AnyRun) -> str:
        cord = cord_of(build, cast(Wire, run))
        names = self.names(build, run) if cord is not None else ()
        return next(
            (
                name
                for name in names
                if cord is not None and same_size(ConductorSize(name), cord.size)
            ),
            "",
        )

    def taken(self, session: Session, run: AnyRun, name: str) -> Build:
        route = session.settled.network.routes.get(run.id)
        way_m = route.length_m if route is not None else 0.0
        return with_cord(session.build, cast(Wire, run), name, way_m)

    def tried(self, before: Analysis, run: AnyRun, name: str) -> Choice:
        return try_cord(before, cast(Wire, run), name)

    def numbers(self, choice: Choice, system: UnitSystem) -> str:
        return cord_numbers(cast(CordChoice, choice), system)

    def words(self, choice: Choice, system: UnitSystem) -> str:
        return cord_words(cast(CordChoice, choice), system)


CORDS = Cords()


class CordSizes(SizeList):
    """One row a size of cord."""

    def __init__(self, session: Session, run: Wire) -> None:
        super().__init__(session, run, CORDS)


class CordMenu(SizeMenu):
    """The same in the context menu of a wire."""

    def __init__(self, session: Session, run: Wire, parent: QWidget) -> None:
        super().__init__(session, run, CORDS, parent)


def cord_numbers(choice: CordChoice, system: UnitSystem) -> str:
    """Such as "119.6 V · 0.4 % · 13.8 of 18.0 A"; without volts where nothing is fed."""
    amps = show_pair(choice.amps, choice.ampacity_a, "current", system) if choice.ampacity_a else ""
    volts = (
        f"{show(choice.volts, 'voltage', system)} · −{show(choice.drop_share, 'percent', system)}"
        if choice.appliance
        else ""
    )
    return " · ".join(one for one in (volts, amps) if one)


def cord_words(choice: CordChoice, system: UnitSystem) -> str:
    """The whole of it in a sentence or two."""
    verdict = choice.reason.shown(system) if choice.reason is not None else "holds"
    if not choice.appliance:
        return f"{choice.name}: {verdict}; it feeds no appliance"
    may = (
        f" of {show(choice.ampacity_a, 'current', system)} that it may"
        if choice.ampacity_a
        else ", no rating"
    )
    return (
        f"{choice.name}: {choice.appliance} gets {show(choice.volts, 'voltage', system)}, "
        f"{show(choice.drop_share, 'percent', system)} lost on its whole way; the cord carries "
        f"{show(choice.amps, 'current', system)}{may}; {verdict}"
    )
