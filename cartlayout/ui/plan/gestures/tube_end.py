"""Dragging the end of a tube from its port to another."""

from typing import TYPE_CHECKING

from msgspec.structs import replace

from ....build import Build, End, TubeRun
from ....build.edits import EditError, remove, replace_run
from ....limits import end_fitting
from ....network import connect
from ....network.fit import Fitter
from .base import XY, Cursor
from .join import JoinGesture, sentence

if TYPE_CHECKING:
    from ..view import PlanView


class TubeEndGesture(JoinGesture):
    """The other end stays; the tube stays the same where it can be fitted to the new port."""

    kind = "connect"
    cursor = Cursor.ClosedHandCursor

    def __init__(self, view: "PlanView", start: XY, run: TubeRun, held: End) -> None:
        super().__init__(view, start)
        self.run = run
        self.held = held
        self.fixed = run.b if held == run.a else run.a
        self.fitter = Fitter(self.before)
        if self.fixed is not None:
            place = self.place_of(self.fixed)
            self.start = place or start
            self.light(
                tuple(
                    end
                    for item, port in self.fitter.places.ports
                    if self.fitter.fits(
                        self.fixed, end := End(item=item, port=port), moving=run.id
                    ).ok
                )
            )

    def make(self, target: End) -> Build:
        """The same tube on the new port, or the tube that fits there."""
        if self.fixed is None:
            raise EditError("The other end of this tube hangs free")
        if target == self.held:
            return self.before
        port = self.fitter.places.ports[target.item, target.port]
        if end_fitting(self.run.tube.name, port.connector) is not None:
            moved = {"a": target} if self.held == self.run.a else {"b": target}
            return replace_run(self.before, replace(self.run, waypoints=(), **moved))
        build, run_id = connect(remove(self.before, run_ids=(self.run.id,)), self.fixed, target)
        made = build.run(run_id)
        if made is None or run_id == self.run.id:
            return build
        runs = tuple(
            replace(one, id=self.run.id) if one.id == run_id else one for one in build.runs
        )
        return replace(build, runs=runs)

    def why_not(self, target: End) -> str:
        """The network's own reason."""
        if self.fixed is None:
            return "The other end of this tube hangs free."
        return sentence(self.fitter.fits(self.fixed, target, moving=self.run.id).reason)

    def origin_item(self) -> str:
        """The item at the end that stays."""
        return self.fixed.item if self.fixed is not None else ""

    def medium(self) -> str:
        """That of the port."""
        node = self.fitter.places.known(self.held)
        return self.fitter.places.ports[node].medium if node is not None else ""

    def label(self) -> str:
        """Such as "Move tube to Tee"."""
        item = self.before.item(self.target.item) if self.target is not None else None
        return f"Move tube to {item.name if item else '?'}"
