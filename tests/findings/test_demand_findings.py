"""Demand factors: told of what feeds boxes, never of a circuit, and never taken by the program."""

from building import box, branch, build, cord, load, outlet, wire

from cartlayout.analysis import analyse
from cartlayout.units import UnitSystem

BLUE = "IEC 60309 16 A blue"


def told(region, *loads, volts=230, feed=16, sockets="BS 1363 R", hall=BLUE):
    """What is said of a feed that its box overloads, each load on a branch of its own."""
    names = [str(at) for at, _ in enumerate(loads, 1)]
    made = build(
        outlet("hall", volts, feed, receptacle=f"{hall} R" if hall == BLUE else f"{hall}R", ways=1),
        box(
            "box",
            [branch(name, 16, "L", name) for name in names],
            None,
            system="single-phase",
            plug=f"{hall} P" if hall == BLUE else f"{hall}P",
            receptacles=dict.fromkeys(names, sockets),
        ),
        *loads,
        wire("box", "hall.1"),
        *(wire(one.id, f"box.{name}") for one, name in zip(loads, names, strict=True)),
        region=region,
    )
    (found,) = [one for one in analyse(made).findings if one.code == "power.total"]
    return found.detail.shown(UnitSystem.METRIC)


def british(item_id, watts, **more):
    return load(item_id, watts, volts=230, plug="BS 1363 P", cord=cord("6 AWG", "1 in"), **more)


# Electricians' guide reprinting the IEE tables, shops: 100 % of the largest, 75 % of the rest.
def test_diversity_of_a_stall_is_shown():
    """2,300 and twice 1,150 W are 20 A at 230 V; 2,300 + 0.75 x 2,300 = 4,025 W are 17.5 A."""
    loads = [british(f"m{at}", watts, heater=False) for at, watts in enumerate((2300, 1150, 1150))]
    detail = told("UK", *loads)
    assert "may be planned for 17.5 A of it" in detail
    assert "only the venue's electrician may use them" in detail


def test_thermostatic_water_heaters_have_no_diversity():
    """The same table: 10 A of urn in full, 5 + 0.75 x 5 A of the rest: 18.75 A of 20."""
    urn = british("urn", 2300)
    rest = [british(f"m{at}", 1150, heater=False) for at in range(2)]
    assert "may be planned for 18.8 A of it" in told("UK", urn, *rest)
    detail = told("UK", *(british(f"urn{at}", 2300) for at in range(2)))
    assert "demand factors" not in detail


def test_kitchen_equipment_of_a_feeder():
    """NEC 220.56 (2023): three units 90 %. Three of 10 A, fastened, are 30 A; 27 A may be planned.
    Loose ones are no kitchen equipment of that article."""

    def three(fastened):
        return [load(f"k{at}", 1200, electrical={"fastened": fastened}) for at in range(3)]

    us = {"volts": 120, "feed": 20, "sockets": "5-20R", "hall": "5-20"}
    assert "may be planned for 27.0 A of it" in told("US", *three(True), **us)
    assert "demand factors" not in told("US", *three(False), **us)


def test_no_rule_no_relief():
    """The continent's code leaves diversity to the designer: common practice, no source."""
    loads = [load(f"m{at}", 2000, volts=230, plug="CEE 7/7 P", heater=False) for at in range(3)]
    assert "demand factors" not in told("EU", *loads, sockets="CEE 7/3 R")
