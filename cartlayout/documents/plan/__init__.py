"""The plan as a drawing: prepared values first, painting of them second.

`plan_picture` turns a Build and its Analysis into a `PlanPicture`: plain
values in millimetres of the plan, without Qt. `paint` draws those values with
a QPainter. The window and the exported sheet use the same two steps.
"""

from .picture import (
    XY,
    BodyShape,
    Box,
    CartShape,
    Dimension,
    Note,
    PlanOptions,
    PlanPicture,
    RunShape,
    ZoneShape,
)
from .scene import plan_picture

__all__ = [
    "XY",
    "BodyShape",
    "Box",
    "CartShape",
    "Dimension",
    "Note",
    "PlanOptions",
    "PlanPicture",
    "RunShape",
    "ZoneShape",
    "plan_picture",
]
