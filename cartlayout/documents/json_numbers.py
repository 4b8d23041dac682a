"""Numbers as JSON has them."""

import math


def finite(number: float | None) -> float | None:
    """A number that JSON has; null for what has no end, and for what is no number."""
    return number if number is not None and math.isfinite(number) else None
