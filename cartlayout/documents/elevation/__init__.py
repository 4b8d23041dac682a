"""Elevations: the cart seen square from the front, the rear and both ends.

`elevation` turns a Build and its Analysis into plain values in metres, without Qt: which lines
of every body, of the cart's parts and of the runs are in sight and which are hidden, and the
heights worth measuring. `drawing` puts them on a sheet at a scale, `documents/dxf` into a file.
"""

from .elevation import elevation
from .model import Elevation, Height, Piece, RunPiece
from .view import VIEWS, View, elevation_title

__all__ = [
    "VIEWS",
    "Elevation",
    "Height",
    "Piece",
    "RunPiece",
    "View",
    "elevation",
    "elevation_title",
]
