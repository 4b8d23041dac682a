"""What the window works on: one build, what follows from it, and the way back.

Everything that shows the build listens here; everything that changes it says
`apply` (one undo step) or `preview` (a scratch build while a drag lasts).
"""

from pathlib import Path

from PySide6.QtCore import QObject, QThread, Signal
from PySide6.QtGui import QUndoStack

from ..analysis import Analysis
from ..analysis import analyse as whole_analysis
from ..build import Build
from ..build.file import load, save
from ..documents.theme import LIGHT, Theme
from ..power.results import EVERYTHING_ON
from ..units import UnitSystem
from ..water.results import ALL_OPEN
from .analyser import Analyse, Analyser
from .selection import NOTHING, Selection
from .undo import Change

OVERLAYS = ("power", "water", "drain", "clearance", "weight")
USUAL_OVERLAYS = ("power", "water", "drain")
"""On until others are asked for."""
UNDO_STEPS = 2000
"""So many steps can be taken back; each keeps about 2 kB, and a day of work makes fewer."""


class Session(QObject):
    """The build that is open, its analysis, its undo stack, and what is being looked at.

    Signals carry frozen values. `build` is what is committed; `shown` is the
    scratch build while something previews, else the same as `build`.
    """

    build_changed = Signal(object)
    """Build: a step was made, undone or redone, or another document was opened."""
    document_changed = Signal(object)
    """Build: another document was opened; emitted before build_changed."""
    analysis_changed = Signal(object)
    """Analysis of `shown`."""
    drawn_changed = Signal(object)
    """Analysis in which bodies and runs are where a drag has them; the answer follows."""
    working_changed = Signal(object)
    """True while an analysis that takes long is made in another thread."""
    selection_changed = Signal(object)
    """Selection."""
    level_changed = Signal(object)
    """Name of the level that is worked on, or "venue"."""
    overlays_changed = Signal(object)
    """frozenset of "power", "water", "drain"."""
    case_changed = Signal(object)
    """Name of the operating case that is looked at."""
    system_changed = Signal(object)
    """UnitSystem."""
    theme_changed = Signal(object)
    """Theme."""
    file_changed = Signal(object)
    """Path or None; also when the build became or ceased to be changed since the last save."""
    show_requested = Signal(object)
    """Selection to bring into sight on the plan, as when a finding is clicked."""
    label_requested = Signal(object)
    """Id of an item whose label is to be edited."""
    working_requested = Signal(object)
    """Number whose working is to be seen, or a tuple of which one is to be chosen."""
    fields_requested = Signal(object)
    """Selection whose first field is to be typed into."""
    isolated_changed = Signal(object)
    """bool: only the level that is worked on is drawn."""
    snapping_changed = Signal(object)
    """bool: what is dragged comes to rest on the grid and in line with its neighbours."""
    editing_cart_changed = Signal(object)
    """bool: the plan edits the cart itself, not what stands on it."""
    told = Signal(object)
    """A sentence for the status bar, such as why an edit cannot be made."""

    def __init__(
        self,
        build: Build,
        parent: QObject | None = None,
        analyse: Analyse | None = None,
        path: Path | None = None,
    ) -> None:
        super().__init__(parent)
        self.undo_stack = QUndoStack(self)
        self.undo_stack.setUndoLimit(UNDO_STEPS)
        self.undo_stack.cleanChanged.connect(self._clean_changed)
        self._build = build
        self._shown = build
        self._analyser = Analyser(analyse or whole_analysis, build, self)
        self._analyser.followed.connect(self.drawn_changed)
        self._analyser.analysed.connect(self._set_analysis)
        self._analyser.working.connect(self.working_changed)
        self._settled = self._analyser.latest
        self._path = path
        self._selection = NOTHING
        self._level = build.cart.levels[0].name if build.cart.levels else "venue"
        self._overlays = frozenset(USUAL_OVERLAYS)
        self._case = ALL_OPEN
        self._system = UnitSystem(build.units)
        self._theme = LIGHT
        self._isolated = False
        self._snapping = True
        self._editing_cart = False

    # What is there to read

    @property
    def build(self) -> Build:
        """What is committed."""
        return self._build

    @property
    def shown(self) -> Build:
        """What is on the screen: the scratch build while something previews."""
        return self._shown

    @property
    def previewing(self) -> bool:
        """True while a scratch build is shown."""
        return self._shown is not self._build

    @property
    def analysis(self) -> Analysis:
        """The latest analysis; its `build` says of what."""
        return self._analyser.latest

    @property
    def drawn(self) -> Analysis:
        """What the plan draws: in a drag it is ahead of `analysis`, with an old answer in it."""
        return self._analyser.drawn

    @property
    def behind(self) -> bool:
        """True while `analysis` is not yet of what is shown."""
        return self._analyser.waits

    @property
    def works(self) -> bool:
        """True while another thread works out a long analysis."""
        return self._analyser.works

    def end(self) -> None:
        """Wait for other threads: the window is going to close."""
        self._analyser.end()
        for thread in self.findChildren(QThread):
            thread.wait()

    @property
    def analyses(self) -> int:
        """How many were computed."""
        return self._analyser.count

    @property
    def settled(self) -> Analysis:
        """The latest analysis of a committed build; its `build` says of which."""
        return self._settled

    def try_out(self, build: Build) -> Analysis:
        """Analyse a build without showing it, to say beforehand what an edit would do."""
        return self._analyser.now(build, self.analysis)

    @property
    def path(self) -> Path | None:
        """Where the build was last loaded from or saved to."""
        return self._path

    @property
    def dirty(self) -> bool:
        """True when the build differs from what was last saved."""
        return not self.undo_stack.isClean()

    @property
    def selection(self) -> Selection:
        """What is selected."""
        return self._selection

    @property
    def level(self) -> str:
        """Name of the level that is worked on."""
        return self._level

    @property
    def overlays(self) -> frozenset[str]:
        """Which overlays are drawn."""
        return self._overlays

    @property
    def case(self) -> str:
        """Name of the operating case that is looked at."""
        return self._case

    @property
    def power_case(self) -> str:
        """The same for the power side: its governing case unless it knows the chosen one."""
        return self._case if self._case in self.analysis.power.cases else EVERYTHING_ON

    @property
    def water_case(self) -> str:
        """The same for the water side: everything open unless it knows the chosen one."""
        return self._case if self._case in self.analysis.water.cases else ALL_OPEN

    @property
    def system(self) -> UnitSystem:
        """The units that are shown."""
        return self._system

    @property
    def theme(self) -> Theme:
        """The colours that are painted with."""
        return self._theme

    @property
    def isolated(self) -> bool:
        """Whether only the level that is worked on is drawn, and nothing of the others."""
        return self._isolated

    @property
    def editing_cart(self) -> bool:
        """The plan edits the cart itself, not what stands on it."""
        return self._editing_cart

    @property
    def snapping(self) -> bool:
        """Whether what is dragged comes to rest on the grid and in line with its neighbours."""
        return self._snapping

    # Edits

    def apply(
        self,
        label: str,
        build: Build,
        select: Selection | None = None,
        merge_key: str = "",
    ) -> None:
        """Make one undo step.

        Args:
            label: what the Edit menu names it, such as "Move Kettle".
            build: the build after it. The same object as `build` ends a preview and does no more.
            select: what is selected afterwards; None leaves it.
            merge_key: steps in a row with the same key become one, such as nudges of one item.
        """
        if build is self._build:
            self.cancel_preview()
        else:
            self.undo_stack.push(Change(self, label, self._build, build, merge_key))
        if select is not None:
            self.select(select)

    def preview(self, build: Build, analysis: Analysis | None = None) -> None:
        """Show a scratch build; its analysis follows at the end of this turn of the event loop.

        Args:
            build: what is shown.
            analysis: of it, if it has been made already: then it is told at once.
        """
        self._shown = build
        if analysis is None:
            self._analyser.want(build, moves=True)
        else:
            self._analyser.take(analysis)
            self._set_analysis(analysis)

    def cancel_preview(self) -> None:
        """Go back to what is committed."""
        if self._shown is self._build and not self._analyser.waits:
            return
        self._shown = self._build
        if self._settled.build is self._build:
            self._analyser.take(self._settled)
            self._set_analysis(self._settled)
        else:
            self._analyser.want(self._build)

    def tell(self, sentence: str) -> None:
        """Say something in the status bar."""
        self.told.emit(sentence)

    # Documents

    def open(self, path: Path) -> None:
        """Load a file and show it.

        Raises:
            CartFileError: nothing has changed.
        """
        self.set_document(load(path), path)

    def save(self, path: Path) -> None:
        """Write the committed build.

        Raises:
            CartFileError: the file cannot be written.
        """
        save(self._build, path)
        self._path = path
        self.undo_stack.setClean()
        self.file_changed.emit(path)

    def set_document(
        self, build: Build, path: Path | None, analysis: Analysis | None = None
    ) -> None:
        """Show another document; the undo stack starts anew.

        Args:
            build: the document.
            path: where it was read from.
            analysis: of it, if it has been made already.
        """
        self._build = self._shown = build
        self._path = path
        self.undo_stack.clear()
        self.undo_stack.setClean()
        self._settled = analysis or self._analyser.now(build, None)
        self._analyser.take(self._settled)
        self._level = build.cart.levels[0].name if build.cart.levels else "venue"
        self._system = UnitSystem(build.units)
        self._case = ALL_OPEN
        self._selection = NOTHING
        self.set_editing_cart(False)
        self.document_changed.emit(build)
        self.system_changed.emit(self._system)
        self.level_changed.emit(self._level)
        self.case_changed.emit(self._case)
        self.build_changed.emit(build)
        self.selection_changed.emit(NOTHING)
        self.analysis_changed.emit(self.analysis)
        self.file_changed.emit(path)

    # What is looked at

    def select(self, selection: Selection) -> None:
        """Select items and runs; ids that do not exist are left out."""
        selection = selection.kept(self._shown)
        if selection.parts or selection.items or selection.runs:
            self._to_what_is_selected(bool(selection.parts))
        if selection != self._selection:
            self._selection = selection
            self.selection_changed.emit(selection)

    def show_on_plan(self, selection: Selection) -> None:
        """Select, and ask the plan to bring it into sight."""
        self.select(selection)
        self.show_requested.emit(self._selection)

    def set_level(self, level: str) -> None:
        """Work on another level."""
        if level != self._level:
            self._level = level
            self.level_changed.emit(level)

    def set_overlay(self, overlay: str, on: bool) -> None:
        """Draw an overlay, or do not."""
        overlays = self._overlays | {overlay} if on else self._overlays - {overlay}
        if overlays != self._overlays:
            self._overlays = overlays
            self.overlays_changed.emit(overlays)

    def set_case(self, case: str) -> None:
        """Look at another operating case."""
        if case != self._case:
            self._case = case
            self.case_changed.emit(case)

    def set_system(self, system: UnitSystem) -> None:
        """Show other units."""
        if system is not self._system:
            self._system = system
            self.system_changed.emit(system)

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        if theme is not self._theme:
            self._theme = theme
            self.theme_changed.emit(theme)

    def set_isolated(self, on: bool) -> None:
        """Draw only the level that is worked on, or the others too."""
        if on != self._isolated:
            self._isolated = on
            self.isolated_changed.emit(on)

    def set_editing_cart(self, on: bool) -> None:
        """Edit the cart itself on the plan, or what stands on it."""
        if on != self._editing_cart:
            self.select(NOTHING)
            self._to_what_is_selected(on)

    def _to_what_is_selected(self, parts: bool) -> None:
        """Parts of the cart are selected while it is edited, items and runs while it is not."""
        if parts != self._editing_cart:
            self._editing_cart = parts
            self.editing_cart_changed.emit(parts)

    def set_snapping(self, on: bool) -> None:
        """Let what is dragged come to rest in line with things, or exactly where the mouse is."""
        if on != self._snapping:
            self._snapping = on
            self.snapping_changed.emit(on)

    # Inside

    def _show(self, build: Build) -> None:
        """Commit a build, for undo commands; the analysis follows unless a preview made it."""
        self._build = self._shown = build
        if self.analysis.build is build:
            self._analyser.take(self.analysis)
            self._settled = self.analysis
        else:
            self._analyser.want(build)
        self.build_changed.emit(build)
        kept = self._selection.kept(build)
        if kept != self._selection:
            self._selection = kept
            self.selection_changed.emit(kept)
        levels = [level.name for level in build.cart.levels]
        if self._level not in levels and self._level != "venue":
            self.set_level(levels[0] if levels else "venue")

    def _set_analysis(self, analysis: Analysis) -> None:
        if analysis.build is self._build:
            self._settled = analysis
        if self._case not in analysis.cases and self._case != ALL_OPEN:
            self.set_case(ALL_OPEN)
        self.analysis_changed.emit(analysis)

    def _clean_changed(self, clean: bool) -> None:
        self.file_changed.emit(self._path)
