"""Bounds that a typed quantity has to keep, by the field it is typed into."""

from ...units import Quantity, QuantityError, Temperature

_ANYWHERE = {"x", "y"}
"""Positions may lie left of the cart or behind it."""
_ABOVE_ZERO = {
    "width",
    "depth",
    "height",
    "outer",
    "bore",
    "volume",
    "voltage",
    "size",
    "breaker",
    "rating",
    "rated_flow",
    "flow",
    "energy",
    "running",
    "sump",
    "full_scale",
    "clear_height",
}
_MAY_BE_ZERO = {("Level", "height"), ("WayPoint", "height")}
_HUGE_M = 100.0


def checked(value: Quantity, owner: str, name: str) -> Quantity:
    """Return the value if it can stand in a field.

    Args:
        value: what was typed.
        owner: name of the struct that has the field.
        name: name of the field.

    Raises:
        QuantityError: it cannot; the message says why.
    """
    if isinstance(value, Temperature) or name in _ANYWHERE:
        if name in _ANYWHERE and abs(value.si) > _HUGE_M:
            raise QuantityError(f"'{value.text}' is too far away; try '{value.example}'")
        return value
    if value.si < 0:
        raise QuantityError(f"'{value.text}' is less than nothing; try '{value.example}'")
    above = name in _ABOVE_ZERO and (owner, name) not in _MAY_BE_ZERO
    if value.si == 0 and above:
        raise QuantityError(f"this has to be more than nothing; try '{value.example}'")
    return value


def read(kind: type[Quantity], text: str, before: Quantity | None) -> Quantity:
    """Read a quantity; a bare number takes the unit that stood there before.

    Raises:
        QuantityError: the text is none of this kind.
    """
    text = text.strip()
    bare = text.replace(",", "").replace(".", "", 1).lstrip("+-").replace("/", "").replace(" ", "")
    if bare.isdigit() and before is not None:
        try:
            return kind(f"{text} {before.unit}")
        except QuantityError:
            pass
    return kind(text)
