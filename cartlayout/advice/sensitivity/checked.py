"""Says in a build that a figure was checked and is as it was taken."""

from msgspec.structs import replace

from ...build import Build, Origin, TubeRun
from ...build.edits import EditError, replace_item, replace_run
from ...units import Length
from .model import Unknown


def can_be_checked(unknown: Unknown) -> bool:
    """Whether the build can keep that this figure was checked."""
    if unknown.taken is None:
        return False
    return bool(unknown.of) or (bool(unknown.run) and unknown.path == ("length",))


def checked(build: Build, unknown: Unknown) -> Build:
    """The build with this figure as it was taken, and no longer unsure.

    Raises:
        EditError: the build has no such figure any more, or cannot keep that it was checked.
    """
    if not can_be_checked(unknown):
        raise EditError(f"nothing can say that {unknown.name.rstrip(',')} was checked")
    if unknown.run:
        run = build.run(unknown.run)
        if not isinstance(run, TubeRun) or unknown.taken is None:
            raise EditError("the tube is gone")
        return replace_run(build, replace(run, length=Length.from_si(unknown.taken, "m", 4)))
    item = build.item(unknown.item)
    if item is None:
        raise EditError("the item is gone")
    spec = item.specification
    told = Origin(of=unknown.of, basis="measured", note="checked")
    spec = replace(spec, origins=(told, *spec.origins))
    return replace_item(build, replace(item, specification=spec))
