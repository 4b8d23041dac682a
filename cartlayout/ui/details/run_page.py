"""One wire or tube: what it carries, its sort, its length."""

from typing import Any, cast

from msgspec.structs import replace

from ...build import Build, End, Run, Tube, TubeRun, Wire, edits
from ...build.edits import EditError
from ...limits import fitting_loss, tube_row, tubes, tubes_between
from ...network import tube_from
from ...units import capitalised, show
from ..commands import sentence
from ..session import Session
from .bend_heights import BendHeights
from .cord_sizes import CordSizes
from .editors import StructEditor
from .facts import end_name, run_facts
from .fields import ChoiceField, Editor, QuantityField
from .kinds import FieldInfo
from .pages import Page
from .sizes import SizeList
from .special import special_for
from .tube_sizes import TubeSizes

_AWG = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG")
_METRIC = ("0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2")


class RunPage(Page):
    """A wire or a tube."""

    def __init__(self, session: Session, opened: dict[str, bool], run: Run) -> None:
        super().__init__(session, opened)
        self.run_id = run.id
        if isinstance(run, TubeRun):
            self.add_section("Way", run, self._make_way, self._run_edited)
            self.add_section("Bends", run, self._make_bends, self._run_edited)
            self.add_section("Tubes that fit", run, self._make_sizes, self._run_edited)
            self.add_section(
                "Tube as kept in the build", run.tube, self._make_tube, self._tube_edited
            )
        else:
            # First, so that no field that a preview adds moves the rows away from under the mouse.
            self.add_section("Cords that fit", run, self._make_cords, self._run_edited)
            self.add_section("Way", run, self._make_wire, self._run_edited)
            self.add_section("Bends", run, self._make_bends, self._run_edited)
        self.refresh()

    @property
    def run(self) -> Run | None:
        """The run as it is shown now."""
        return self.session.shown.run(self.run_id)

    def refresh(self) -> None:
        run, session = self.run, self.session
        if run is None:
            return
        build = session.shown
        what = run.tube.name if isinstance(run, TubeRun) else _wire_name(build, run)
        title = f"Tube {what}" if isinstance(run, TubeRun) and "tube" not in what else what
        self.heading_changed.emit(capitalised(title), _ends(build, run))
        facts = run_facts(session.analysis, run, session.water_case, session.system)
        self.facts.show_facts(self.marked(facts))
        if not self._tries_sizes():
            self.show_findings({run.id})
        self.sections["Way"].show_value(run)
        self.sections["Bends"].show_value(run)
        if isinstance(run, TubeRun):
            self.sections["Tube as kept in the build"].show_value(run.tube)
            self.sections["Tubes that fit"].show_value(run)
            self._show_length()
        else:
            self.sections["Cords that fit"].show_value(run)

    def _tries_sizes(self) -> bool:
        """Whether a size is only pointed at: then what stands above the list stays as it is."""
        editors = (section.editor for section in self.sections.values())
        return any(isinstance(one, SizeList) and one.previews for one in editors)

    def _show_length(self) -> None:
        """Say in the empty length field what the route gives."""
        editor = self.sections["Way"].editor
        route = self.session.analysis.network.routes.get(self.run_id)
        if isinstance(editor, StructEditor):
            field = editor.editors.get("length")
            if isinstance(field, QuantityField):
                known = show(route.length_m, "distance", self.session.system) if route else ""
                field.set_unknown(f"from the route: {known}" if known else "from the route")

    def _make_way(self, value: object) -> Editor:
        return StructEditor(
            cast(TubeRun, value), self._special, only=("tube", "length", "spare", "fittings")
        )

    def _make_sizes(self, value: object) -> Editor:
        return TubeSizes(self.session, cast(TubeRun, value))

    def _make_bends(self, value: object) -> Editor:
        return BendHeights(self.session, cast(Run, value))

    def _make_cords(self, value: object) -> Editor:
        return CordSizes(self.session, cast(Wire, value))

    def _make_wire(self, value: object) -> Editor:
        return StructEditor(cast(Wire, value), self._special, only=("cord",))

    def _make_tube(self, value: object) -> Editor:
        return StructEditor(cast(Tube, value))

    def _special(self, owner: type[Any], info: FieldInfo, value: object) -> Editor | None:
        run = self.session.build.run(self.run_id)
        if owner is TubeRun and info.name == "tube" and isinstance(run, TubeRun):
            return TubeField(tube_choices(self.session.build, run), cast(Tube, value))
        return special_for(self.session.build)(owner, info, value)

    def _tube_edited(self, value: object, words: object) -> None:
        run = self.session.build.run(self.run_id)
        if isinstance(run, TubeRun):
            self._run_edited(replace(run, tube=cast(Tube, value)), words)

    def _run_edited(self, value: object, words: object) -> None:
        run = cast(Run, value)
        before = self.session.build.run(self.run_id)
        if isinstance(run, TubeRun) and isinstance(before, TubeRun):
            run = _with_table_losses(run, before)
        try:
            build = edits.replace_run(self.session.build, run)
        except EditError as error:
            self.session.tell(sentence(str(error)))
            return
        kind = "tube" if isinstance(run, TubeRun) else "wire"
        self.apply(f"Change {words} of {kind}" if words != "tube" else "Change tube", build)


class TubeField(ChoiceField):
    """The sorts of tube that fit both ends, best first; then all the others."""

    def __init__(self, choices: tuple[tuple[object, str], ...], tube: Tube) -> None:
        super().__init__(choices, tube.name)
        self.combo.setMaxVisibleItems(16)

    def show_value(self, value: object) -> None:
        super().show_value(value.name if isinstance(value, Tube) else value)

    def _activated(self, index: int) -> None:
        name = self._choices[index][0]
        row = tube_row(str(name))
        if name != self._value and row is not None:
            self._value = name
            self.edited.emit(tube_from(row), "tube")


def tube_choices(build: Build, run: TubeRun) -> tuple[tuple[object, str], ...]:
    """Tubes for a run: what fits both of its ends first, then the rest of its medium."""
    first, second = _connector(build, run.a), _connector(build, run.b)
    medium = _medium(build, run)
    fitting = tubes_between(first, second, medium) if first and second else ()
    names = [row.name for row in fitting]
    others = [row.name for row in tubes() if medium in row.media and row.name not in names]
    return (
        *((name, name) for name in names),
        *((name, f"{name} (does not fit both ends)" if names else name) for name in others),
    )


def _port(build: Build, end: End | None) -> Any:
    item = build.item(end.item) if end is not None else None
    return item.specification.port(end.port) if item is not None and end is not None else None


def _connector(build: Build, end: End | None) -> str:
    port = _port(build, end)
    return port.connector if port is not None else ""


def _medium(build: Build, run: TubeRun) -> str:
    port = _port(build, run.a) or _port(build, run.b)
    return port.medium if port is not None else "water"


def _wire_name(build: Build, wire: Wire) -> str:
    cords = [wire.cord, *(port.cord for end in (wire.a, wire.b) if (port := _port(build, end)))]
    cord = next((one for one in cords if one is not None), None)
    if cord is None:
        return "Wire"
    return f"Wire, {cord.size.text}, {cord.length.text}"


def _ends(build: Build, run: Run) -> str:
    first = end_name(build, run.a.item, run.a.port)
    second = end_name(build, run.b.item, run.b.port) if run.b is not None else "a free end"
    return f"{first} to {second}"


def _with_table_losses(run: TubeRun, before: TubeRun) -> TubeRun:
    """Where another fitting was chosen by name, take its loss from the table."""
    known = {one.name: one for one in before.fittings}
    made = []
    for fitting in run.fittings:
        row = fitting_loss(fitting.name)
        if fitting.name not in known and row is not None:
            fitting = replace(fitting, loss_coefficient=row.loss_coefficient)
        made.append(fitting)
    return replace(run, fittings=tuple(made))
