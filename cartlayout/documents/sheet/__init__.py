"""The printed sheet: what stands where in millimetres, and the painting of it."""

from .elements import Sheet
from .layout import SheetOptions, lay_out
from .painting import paint_sheet

__all__ = ["Sheet", "SheetOptions", "lay_out", "paint_sheet"]
