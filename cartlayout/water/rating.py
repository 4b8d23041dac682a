"""The pressure a tube may see at the temperature of its water."""

from ..build import Tube

_NEAR_K = 0.5
"""Tables in degrees Fahrenheit and Celsius are rounded against each other by about this much."""


def rating_pa(tube: Tube, temperature_k: float) -> float | None:
    """Working pressure [Pa] at a temperature [K]; None where nothing is stated for it.

    Between the two temperatures that a rating is stated at it falls along a straight line. A
    tube with one rating and no temperature is taken to be rated as it is used; one that is used
    hotter than any stated temperature has no rating there (see `is_too_hot`).
    """
    if tube.rating is None:
        return None
    cold = tube.rating_at
    if cold is None or temperature_k <= cold.si + _NEAR_K:
        return tube.rating.si
    warm, warm_at = tube.warm_rating, tube.warm_rating_at
    if warm is None or warm_at is None or warm_at.si <= cold.si:
        return None
    share = (temperature_k - cold.si) / (warm_at.si - cold.si)
    if temperature_k > warm_at.si + _NEAR_K:
        return None
    return tube.rating.si + (warm.si - tube.rating.si) * min(share, 1.0)


def is_too_hot(tube: Tube, temperature_k: float) -> bool:
    """Whether a rating is stated, but for no temperature as high as this."""
    return tube.rating is not None and rating_pa(tube, temperature_k) is None
