"""Which parts have room: those wanted most recently come first."""

from collections.abc import Mapping, Sequence


def fitting(
    wanted: Sequence[str],
    least_px: Mapping[str, int],
    edge_px: int,
    room_px: int,
    forced: str = "",
) -> frozenset[str]:
    """The parts that are shown side by side.

    Args:
        wanted: those the person wants to see, the one wanted most first.
        least_px: the least width of every part there is, wanted or not.
        edge_px: what a hidden one takes.
        room_px: what there is for all of them.
        forced: one that is shown whatever room there is, because the person has just asked.
    """
    spare = room_px - edge_px * len(least_px)
    shown: set[str] = set()
    for name in sorted(wanted, key=lambda name: name != forced):
        needs = least_px[name] - edge_px
        if name == forced or needs <= spare:
            shown.add(name)
            spare -= needs
    return frozenset(shown)
