"""The question whether to rebalance: before and after, what moves, how good it is."""

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from ...documents.theme import Theme
from ...units import UnitSystem, show
from .. import widgets
from ..marks import mark_pixmap
from .columns import BeforeAfter
from .plan import Plan, verdict

_MOST_HIGH = 400
"""Of the bars; more circuits are scrolled."""


class RebalanceDialog(QDialog):
    """Shows a plan; accepted means: do it."""

    def __init__(
        self, plan: Plan, theme: Theme, system: UnitSystem, parent: QWidget | None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Rebalance loads")
        self.plan = plan
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.setSpacing(10)
        column.addWidget(widgets.label("Rebalance loads", "heading"))
        mark, sentence = verdict(plan)
        self.verdict = widgets.wrapped(sentence)
        sign = QLabel()
        sign.setPixmap(mark_pixmap(theme.mark(mark), 18, self.devicePixelRatioF()))
        sign.setFixedWidth(22)
        line = QHBoxLayout()
        line.addWidget(sign)
        line.addWidget(self.verdict, 1)
        column.addLayout(line)
        after = plan.after
        if after is not None:
            area = widgets.ColumnArea()
            moved = frozenset(move.item for move in plan.moves)
            bars = BeforeAfter(plan.before, after, moved, theme, system)
            area.add(bars)
            area.setMinimumHeight(min(bars.sizeHint().height() + 8, _MOST_HIGH))
            column.addWidget(area, 1)
            column.addWidget(widgets.wrapped(self._peaks(plan)))
            column.addWidget(widgets.label(self._heading(plan), "title"))
            self.moves = widgets.wrapped(
                "\n".join(
                    f"{move.name}: {move.before or 'not plugged in'} → {move.after}"
                    for move in plan.moves
                )
            )
            column.addWidget(self.moves)
        self.buttons = QDialogButtonBox()
        if after is not None:
            apply = self.buttons.addButton("Rebalance", QDialogButtonBox.ButtonRole.AcceptRole)
            apply.setDefault(True)
            apply.setToolTip("Move the plugs: one step that can be undone")
        close = self.buttons.addButton(
            "Cancel" if after is not None else "Close", QDialogButtonBox.ButtonRole.RejectRole
        )
        close.setAutoDefault(after is None)
        widgets.without_icons(self.buttons)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column.addStretch(0 if after is not None else 1)
        column.addWidget(
            widgets.wrapped(
                "Planning aid only. A licensed electrician and the local code decide.", "muted"
            )
        )
        column.addWidget(self.buttons)
        widgets.as_high_as_its_words(self, 880 if after is not None else 460)

    @staticmethod
    def _heading(plan: Plan) -> str:
        count = len(plan.moves)
        return "One plug moves" if count == 1 else f"{count} plugs move"

    @staticmethod
    def _peaks(plan: Plan) -> str:
        assert plan.after is not None
        before = max((one.share for one in plan.before.power.circuits), default=0.0)
        after = max((one.share for one in plan.after.power.circuits), default=0.0)
        stops = plan.before.count("stop"), plan.after.count("stop")
        system = UnitSystem.METRIC
        text = (
            f"The fullest circuit goes from {show(before, 'share', system)} to "
            f"{show(after, 'share', system)} of its rating."
        )
        if stops[0] != stops[1]:
            text += f" Stops: {stops[0]} now, {stops[1]} then."
        return text
