"""The annotated plan sheet: lay it out, paint it. See `sheet` for how it is divided."""

from .sheet import Sheet, SheetOptions, lay_out, paint_sheet

__all__ = ["Sheet", "SheetOptions", "lay_out", "paint_sheet"]
