"""Drawings for the shop as DXF: real units, layers by medium, blocks with attributes."""

from .document import Wanted, dxf_bytes, everything, make_dxf

__all__ = ["Wanted", "dxf_bytes", "everything", "make_dxf"]
