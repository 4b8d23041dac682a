"""Tubes as springs: how fast a pressure wave runs in one, and how much water its wall takes in.

A wave in a full tube is slower than in open water because the wall gives:
a = sqrt(K/rho) / sqrt(1 + K D / (E t)), K the bulk modulus of water (2.07 GPa), E the wall's
modulus, D the bore and t the wall's thickness (Korteweg; any text on water hammer). The same
wall takes in a little water when the pressure rises: V (1/K + D/(E t)) a pascal.
"""

import math

from ..build import Tube
from ..limits.materials import material

BULK_MODULUS_PA = 2.07e9
_THINNEST_M = 1e-5
_SLOWEST_M_S = 0.1
"""Softer than any tube there is; keeps a wall of nothing from stopping the wave altogether."""


def wall_m(tube: Tube) -> float:
    """Thickness of a tube's wall [m]."""
    return max(0.5 * (tube.outer.si - tube.bore.si), _THINNEST_M)


def modulus_pa(tube: Tube) -> float:
    """Elastic modulus of a tube's wall [Pa]: as entered, or typical of its material."""
    given = tube.elastic_modulus
    if given is not None and given.si > 0.0:
        return given.si
    return material(tube.material).elastic_modulus.si


def softness(tube: Tube) -> float:
    """Share of its volume that a full tube takes in a pascal [1/Pa], wall and water together."""
    return 1.0 / BULK_MODULUS_PA + max(tube.bore.si, 0.0) / (modulus_pa(tube) * wall_m(tube))


def wave_speed_m_s(tube: Tube, density_kg_m3: float) -> float:
    """Speed of a pressure wave in a full tube [m/s]."""
    return max(1.0 / math.sqrt(density_kg_m3 * softness(tube)), _SLOWEST_M_S)


def taken_in_m3_pa(tube: Tube, length_m: float) -> float:
    """Water that a length of tube takes in for each pascal [m^3/Pa]."""
    bore = max(tube.bore.si, 0.0)
    return 0.25 * math.pi * bore * bore * max(length_m, 0.0) * softness(tube)
