"""Which pump does this cart need? What it has to do, and which of the stock do it."""

from .panel import ChoosingPumpPanel, open_choosing_pump
from .supply import supply_of

__all__ = ["ChoosingPumpPanel", "open_choosing_pump", "supply_of"]
