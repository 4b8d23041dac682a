"""Losses of fittings along a tube, in velocity heads."""

from functools import cache

from .rows import LimitsError, Row, Sourced
from .tables import by_key, read_table

_FILE = "fittings.json"


class FittingLoss(Sourced, frozen=True):
    """A fitting and the velocity heads it costs, on the velocity in the tube's bore."""

    name: str
    loss_coefficient: float
    by_hand: bool = False
    """Comes apart by hand, and closes itself."""


class _Table(Row, frozen=True):
    fittings: tuple[FittingLoss, ...]


@cache
def _fittings() -> dict[str, FittingLoss]:
    return by_key(
        f"{_FILE}: fittings", [(row.name, row) for row in read_table(_FILE, _Table).fittings]
    )


def fittings() -> tuple[FittingLoss, ...]:
    """Every fitting, in the order of the table."""
    return tuple(_fittings().values())


def fitting_loss(name: str) -> FittingLoss | None:
    """The fitting of that name, or None."""
    return _fittings().get(name)


def loss_coefficient(name: str) -> float:
    """Velocity heads of a fitting.

    Raises:
        LimitsError: there is none of that name.
    """
    found = fitting_loss(name)
    if found is None:
        raise LimitsError(f"{_FILE}: there is no fitting '{name}'")
    return found.loss_coefficient
