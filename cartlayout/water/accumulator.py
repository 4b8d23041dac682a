"""What an air cushion gives back between two pressures (Boyle, slow enough to stay at one heat)."""


def useful_volume_m3(
    volume_m3: float, pre_charge_pa: float, low_pa: float, high_pa: float, air_pa: float
) -> float:
    """Water [m^3] that leaves a vessel while the pressure falls from high to low [Pa, gauge].

    V * (p0/p_low - p0/p_high) in absolute pressures, the usual drawdown formula
    of the tank trade. Below its pre-charge a vessel holds no water, so the fall
    ends there; a vessel whose pre-charge is above the high end never takes any.

    Args:
        volume_m3: Whole vessel [m^3].
        pre_charge_pa: Of the air with no water in it [Pa, gauge].
        low_pa: Cut-in [Pa, gauge].
        high_pa: Cut-out [Pa, gauge].
        air_pa: Of the surrounding air [Pa, absolute].
    """
    cushion = pre_charge_pa + air_pa
    low = max(low_pa, pre_charge_pa) + air_pa
    high = high_pa + air_pa
    if high <= low or cushion <= 0.0:
        return 0.0
    return volume_m3 * (cushion / low - cushion / high)
