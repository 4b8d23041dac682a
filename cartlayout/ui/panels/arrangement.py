"""Where the parts of the window stand, which are hidden, and what of that is remembered."""

import json

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from .. import settings
from .fitting import fitting
from .foldable import EDGE_PX, Foldable
from .splitter import PanelSplitter

SIDES = ("stock", "details")
BOARDS = ("circuits", "taps", "findings")
PANELS = (*SIDES, *BOARDS, "boards")
"""Every part that can be hidden; "boards" is the row of the three."""

_USUAL = {
    "stock": 216,
    "details": 320,
    "circuits": 440,
    "taps": 400,
    "findings": 440,
    "boards": 236,
}
_LEAST = {"stock": 190, "details": 260, "circuits": 240, "taps": 240, "findings": 240}
"""Widths; a board whose heading needs more gets more."""
_PLAN_WIDTH, _PLAN_HEIGHT = 340, 210
"""Less of the plan is left only where the person asks for a panel in a small window."""
_BOARDS_HEIGHT = 150
_MOST_OF_HEIGHT, _MOST_OF_WIDTH = 0.45, 0.6
"""For the boards, and for both sides together: a size that was right on a large screen must not
squeeze the plan on a small one."""
_FIRST_TO_KEEP = ("findings", "circuits", "taps", "details", "stock", "boards")
"""In a small window, until the person has asked for one."""
_VERSION = 2
"""Raised when what is remembered no longer fits the window's make-up."""


class Arrangement(QObject):
    """Puts stock, plan and details side by side and the boards under them."""

    changed = Signal()
    """A part was hidden or brought back."""

    def __init__(self, parts: dict[str, QWidget], plan: QWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self.plan = plan
        self.middle = PanelSplitter(Qt.Orientation.Horizontal)
        self.boards = PanelSplitter(Qt.Orientation.Horizontal)
        self.whole = PanelSplitter(Qt.Orientation.Vertical)
        self.folds = {
            "stock": Foldable("Stock", "left", parts["stock"], _USUAL["stock"]),
            "details": Foldable("Details", "right", parts["details"], _USUAL["details"]),
            "circuits": Foldable("Circuits", "left", parts["circuits"], _USUAL["circuits"]),
            "taps": Foldable("Taps", "left", parts["taps"], _USUAL["taps"]),
            "findings": Foldable("Findings", "right", parts["findings"], _USUAL["findings"]),
            "boards": Foldable(
                "Circuits · Taps · Findings", "bottom", self.boards, _USUAL["boards"]
            ),
        }
        for part in (self.folds["stock"], plan, self.folds["details"]):
            self.middle.addWidget(part)
        for name in BOARDS:
            self.boards.addWidget(self.folds[name])
        self.whole.addWidget(self.middle)
        self.whole.addWidget(self.folds["boards"])
        for name in SIDES:
            parts[name].setMinimumWidth(_LEAST[name])
        for at, stretch in enumerate((0, 1, 0)):
            self.middle.setStretchFactor(at, stretch)
            self.boards.setStretchFactor(at, 1)
        self.whole.setStretchFactor(0, 1)
        self.whole.setStretchFactor(1, 0)
        self._wanted = dict.fromkeys(PANELS, True)
        self._order = list(_FIRST_TO_KEEP)
        self._forced = ""
        """Asked for in a window that has no room for it beside the plan."""
        self._before_alone: dict[str, bool] | None = None
        self._was_shown = False
        for fold in self.folds.values():
            fold.asked.connect(self._asked)
        for splitter in (self.middle, self.boards, self.whole):
            splitter.splitterMoved.connect(self._note_sizes)
        self.middle.clicked_twice.connect(self._middle_divider)
        self.boards.clicked_twice.connect(self._boards_divider)
        self.whole.clicked_twice.connect(self._whole_divider)

    # What the person asks for

    def shows(self, name: str) -> bool:
        """Whether a part is open, not just its edge."""
        fold = self.folds[name]
        return not fold.folded and not (name in BOARDS and self.folds["boards"].folded)

    def show_part(self, name: str, on: bool = True) -> None:
        """Open a part or hide it. One of the boards opens their row as well."""
        self._before_alone = None
        self._wanted[name] = on
        if on:
            self._prefer(name)
            if name in BOARDS:
                self._wanted["boards"] = True
                self._prefer("boards")
            if name == "boards" and not any(self._wanted[one] for one in BOARDS):
                self._wanted.update(dict.fromkeys(BOARDS, True))
        elif name in BOARDS and not any(self._wanted[one] for one in BOARDS):
            self._wanted["boards"] = False
        self._forced = name if on else ""
        self.fit()

    def toggle(self, name: str) -> None:
        """Hide a part that is open, open one that is hidden."""
        self.show_part(name, not self.shows(name))

    @property
    def plan_alone(self) -> bool:
        """Whether everything but the plan was hidden at one stroke."""
        return self._before_alone is not None

    def toggle_plan_alone(self) -> None:
        """Hide everything but the plan; asked again, bring back what was there."""
        before, self._before_alone = self._before_alone, None
        if before is None:
            self._before_alone = dict(self._wanted)
            before = dict.fromkeys(PANELS, False) | dict.fromkeys(BOARDS, True)
        self._wanted = before
        self.fit()

    def usual(self) -> None:
        """Everything in its usual place."""
        self._before_alone = None
        self._wanted = dict.fromkeys(PANELS, True)
        self._order = list(_FIRST_TO_KEEP)
        self._forced = ""
        self.fit()
        usual = dict(_USUAL, boards=max(_USUAL["boards"], min(self.whole.height() * 3 // 10, 360)))
        for name, extent in usual.items():
            self.folds[name].extent_px = extent
        self.apply_sizes()

    def _prefer(self, name: str) -> None:
        self._order.remove(name)
        self._order.insert(0, name)

    # Room

    def shown_first(self) -> None:
        """The window has its size: take up what was remembered, or put all in its usual place."""
        if not self._was_shown:
            self._was_shown = True
            for name in BOARDS:
                self.folds[name].content.setMinimumWidth(self._least(name))
            if not self._restore():
                self.usual()

    def _least(self, name: str) -> int:
        layout = self.folds[name].content.layout()
        return max(_LEAST[name], layout.minimumSize().width() if layout is not None else 0)

    def fit(self) -> None:
        """Show what is wanted as far as there is room, and edges for the rest."""
        shown = self._fitting("")
        needed = {self._forced, "boards"} if self._forced in BOARDS else {self._forced}
        if self._forced and not needed <= shown:
            shown = self._fitting(self._forced)
        else:
            self._forced = ""
        self._show(shown)

    def _fitting(self, forced: str) -> set[str]:
        width, height = self.whole.width(), self.whole.height()
        wanted = [name for name in self._order if self._wanted[name]]
        sides = [name for name in wanted if name in SIDES]
        columns = [name for name in wanted if name in BOARDS]
        shown = set(
            fitting(
                sides,
                {name: _LEAST[name] for name in SIDES},
                EDGE_PX,
                width - _PLAN_WIDTH,
                forced if forced in SIDES else "",
            )
        )
        shown |= fitting(
            columns,
            {name: self._least(name) for name in BOARDS},
            EDGE_PX,
            width,
            forced if forced in BOARDS else (columns or [""])[0],
        )
        tall = height >= _BOARDS_HEIGHT + _PLAN_HEIGHT
        if self._wanted["boards"] and (tall or forced in ("boards", *BOARDS)):
            shown.add("boards")
        return shown

    def _show(self, shown: set[str]) -> None:
        if all(self.folds[name].folded == (name not in shown) for name in PANELS):
            self._regrow()
            return
        for name in PANELS:
            self.folds[name].set_folded(folded=name not in shown)
        self.apply_sizes()
        self.changed.emit()

    def apply_sizes(self) -> None:
        """Give every open part the size it had last; the plan takes the rest."""
        for splitter, names in ((self.middle, SIDES), (self.boards, BOARDS)):
            extents = {
                name: EDGE_PX if self.folds[name].folded else self.folds[name].extent_px
                for name in names
            }
            if splitter is self.middle:
                self._cap(extents, self.middle.width())
                rest = max(1, self.middle.width() - sum(extents.values()))
                splitter.setSizes([extents["stock"], rest, extents["details"]])
            else:
                splitter.setSizes([extents[name] for name in names])
        below = self.folds["boards"]
        most = max(_BOARDS_HEIGHT, round(self.whole.height() * _MOST_OF_HEIGHT))
        taken = EDGE_PX if below.folded else min(below.extent_px, most)
        self.whole.setSizes([max(1, self.whole.height() - taken), taken])

    def _cap(self, extents: dict[str, int], width: int) -> None:
        """Let the sides together have no more than their share, each its least at least."""
        over = sum(extents.values()) / max(1.0, width * _MOST_OF_WIDTH)
        if over > 1.0:
            for name, extent in extents.items():
                if not self.folds[name].folded:
                    extents[name] = max(_LEAST[name], round(extent / over))

    def _regrow(self) -> None:
        """Give back what a smaller window had taken."""
        squeezed = [
            fold
            for name, fold in self.folds.items()
            if not fold.folded and name not in BOARDS and fold.extent() < fold.extent_px
        ]
        if squeezed:
            self.apply_sizes()

    def _note_sizes(self, *_: object) -> None:
        """Keep the sizes the person gave to what is open now."""
        for fold in self.folds.values():
            if fold.isVisible() and not fold.folded:
                fold.extent_px = fold.extent()

    # Remembering

    def remember(self) -> None:
        """Keep sizes and what is hidden for the next start."""
        if all(self.shows(name) == self._wanted[name] for name in PANELS):
            self._note_sizes()
        wanted = self._before_alone or self._wanted
        state = {
            "version": _VERSION,
            "sizes": {name: fold.extent_px for name, fold in self.folds.items()},
            "hidden": [name for name in PANELS if not wanted[name]],
            "order": self._order,
        }
        settings.remember("panels", json.dumps(state))

    def _restore(self) -> bool:
        """Take up what was remembered; False where nothing was, or it cannot be read."""
        try:
            state = json.loads(settings.text("panels", "{}"))
            if state.get("version") != _VERSION:
                return False
            sizes = {name: int(state["sizes"][name]) for name in PANELS}
            hidden = {str(name) for name in state["hidden"]}
            order = [str(name) for name in state["order"]]
        except (ValueError, KeyError, TypeError, AttributeError):
            return False
        if sorted(order) == sorted(PANELS):
            self._order = order
        self._wanted = {name: name not in hidden for name in PANELS}
        self.fit()
        for name, extent in sizes.items():
            self.folds[name].extent_px = max(_LEAST.get(name, _BOARDS_HEIGHT), min(extent, 4000))
        self.apply_sizes()
        return True

    # Dividers and edges

    def _asked(self, on: bool) -> None:
        for name, fold in self.folds.items():
            if fold is self.sender():
                self.show_part(name, on)

    def _middle_divider(self, number: int) -> None:
        self.toggle(SIDES[number - 1])

    def _boards_divider(self, number: int) -> None:
        self.toggle("circuits" if number == 1 else "findings")

    def _whole_divider(self, _number: int) -> None:
        self.toggle("boards")
