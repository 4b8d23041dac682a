"""Where on a body the mark of what is said about it stands."""

from .picture import XY, BodyShape, PlanPicture


def marked_corner(body: BodyShape, picture: PlanPicture) -> XY:
    """The corner that carries a body's mark: up and right, whichever way the body is turned.

    A body on another level is drawn beneath the solid ones, and a mark in the
    middle of one of those would speak of the wrong thing: such a body takes
    the first corner that none of them hides.
    """
    corners = sorted(
        body.corners,
        key=lambda corner: (round(corner[0] - corner[1], 3), corner),
        reverse=True,
    )
    if not body.ghosted:
        return corners[0]
    solid = [other.box for other in picture.bodies if not other.ghosted]
    for corner in corners:
        x, y = corner
        if not any(box.x < x < box.right and box.y < y < box.bottom for box in solid):
            return corner
    return corners[0]
