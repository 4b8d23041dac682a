"""The equipment that can be placed: generic entries read from resources/stock."""

from .catalogue import categories, entry, in_category, search, stock
from .entries import CATEGORIES, SYMBOLS, Placement, Stands, StockEntry, StockError
from .placing import placed

__all__ = [
    "CATEGORIES",
    "SYMBOLS",
    "Placement",
    "Stands",
    "StockEntry",
    "StockError",
    "categories",
    "entry",
    "in_category",
    "placed",
    "search",
    "stock",
]
