"""What is selected: ids only, so that a selection outlives every edit."""

from dataclasses import dataclass

from ..build import Build
from ..build.cart_parts import exists


@dataclass(frozen=True, slots=True)
class Selection:
    """Ids of selected items and runs, in the order they were chosen."""

    items: tuple[str, ...] = ()
    runs: tuple[str, ...] = ()
    alone: bool = False
    """The one item was picked out of its group: it moves and turns by itself."""
    parts: tuple[str, ...] = ()
    """Parts of the cart, such as "zone:0" (`build.cart_parts`); never together with items."""

    def __bool__(self) -> bool:
        return bool(self.items or self.runs or self.parts)

    def kept(self, build: Build) -> "Selection":
        """The part of it that still exists in a build."""
        items = {item.id for item in build.items}
        runs = {run.id for run in build.runs}
        kept = Selection(
            tuple(one for one in self.items if one in items),
            tuple(one for one in self.runs if one in runs),
            self.alone and bool(items.intersection(self.items)),
            tuple(one for one in self.parts if exists(build.cart, one)),
        )
        return self if kept == self else kept


NOTHING = Selection()
