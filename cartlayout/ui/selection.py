"""What is selected: ids only, so that a selection outlives every edit."""

from dataclasses import dataclass

from ..build import Build


@dataclass(frozen=True, slots=True)
class Selection:
    """Ids of selected items and runs, in the order they were chosen."""

    items: tuple[str, ...] = ()
    runs: tuple[str, ...] = ()
    alone: bool = False
    """The one item was picked out of its group: it moves and turns by itself."""

    def __bool__(self) -> bool:
        return bool(self.items or self.runs)

    def kept(self, build: Build) -> "Selection":
        """The part of it that still exists in a build."""
        items = {item.id for item in build.items}
        runs = {run.id for run in build.runs}
        kept = Selection(
            tuple(one for one in self.items if one in items),
            tuple(one for one in self.runs if one in runs),
            self.alone and bool(items.intersection(self.items)),
        )
        return self if kept == self else kept


NOTHING = Selection()
