"""Which joints come apart by hand."""

from .fittings import fitting_loss
from .rows import LimitsError
from .tubes import tube_row
from .water_connectors import water_connector

QUICK_CONNECT = "quick-connect, valved"
"""Name of the fitting that a lift-out module gets on every tube."""
_BY_HAND = ("open", "GHT")
"""Families of connectors that are loosened by hand: an open end, a hose thread."""


def quick_connect_loss() -> float:
    """Velocity heads of the quick-connect in a tube's bore.

    Raises:
        LimitsError: the table has none.
    """
    row = fitting_loss(QUICK_CONNECT)
    if row is None:
        raise LimitsError(f"fittings.json: there is no fitting '{QUICK_CONNECT}'")
    return row.loss_coefficient


def comes_apart(fitting_name: str) -> bool:
    """Tell whether a fitting along a tube is taken apart by hand, without water running out."""
    row = fitting_loss(fitting_name)
    return row is not None and row.by_hand


def loosened_by_hand(tube_name: str, connector_key: str) -> bool:
    """Tell whether the end of a tube at a connector is loosened by hand."""
    row = tube_row(tube_name)
    connector = water_connector(connector_key)
    hose = row is not None and bool(row.ends) and row.ends == connector_key
    return hose or (connector is not None and connector.family in _BY_HAND)
