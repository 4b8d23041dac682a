"""What still goes on a circuit, against the whole analysis of every build with one thing more."""

import pytest
from building import box, branch, build, cord, load, outlet, wire

from cartlayout.advice.additions import additions
from cartlayout.analysis import analyse
from cartlayout.build import Build, End, Load
from cartlayout.build.edits import EditError
from cartlayout.network import connect
from cartlayout.stock import placed, stock


def crowded(watts: float, hours: str = "10 min", breaker: float = 20) -> Build:
    return build(
        outlet("wall", breaker=breaker, ways=4),
        load("kettle", watts, longest_run=hours),
        wire("kettle", "wall.1"),
    )


def by_trying(made: Build, node: End, key: str) -> set[str]:
    """Keys of the stock that break no limit of a circuit when they are plugged in there."""
    found = set()
    for entry in stock():
        role = entry.specification.electrical if entry.specification is not None else None
        if not isinstance(role, Load) or (entry.regions and made.region not in entry.regions):
            continue
        plug = [p for p in entry.specification.ports if (p.medium, p.direction) == ("power", "in")]
        more, (item_id,) = placed(made, entry, "shelf", 0.5, 0.3)
        try:
            more, _ = connect(more, End(item_id, plug[0].id), node)
        except EditError:
            continue
        power = analyse(more).power
        limits = [*power.circuit(key).limits, *(one for at, one in power.limits if at == item_id)]
        on_it = {limit.name for limit in limits if not limit.holds}
        if not on_it & {"total", "continuous", "one appliance", "own circuit", "voltage"}:
            found.add(entry.key)
    return found


@pytest.mark.parametrize(
    ("watts", "hours", "breaker"),
    [
        (600, "10 min", 20),
        (1680, "10 min", 20),
        (1900, "10 min", 20),
        (600, "4 h", 20),
        (1440, "4 h", 20),
        (600, "10 min", 15),
        # NEC 2023 210.23(B)(1): of an empty circuit of 15 A one appliance takes 12 A at most.
        (12, "10 min", 15),
    ],
)
def test_what_is_offered_is_what_trying_everything_finds(watts, hours, breaker):
    """None of these leaves a sum within half a percent of a limit, where a limit still holds."""
    made = crowded(watts, hours, breaker)
    analysis = analyse(made)
    circuit = analysis.power.circuits[0]
    offered = {one.entry.key for one in additions(analysis, circuit)}
    assert offered == by_trying(made, End("wall", "2"), circuit.key)
    assert offered


def hub(volts: float) -> Build:
    """A branch across both legs of a supply with a receptacle from leg to neutral."""
    return build(
        outlet("feed", volts, 30, receptacle="L14-30R", ways=1,
               electrical={"system": "split-phase"}),
        box("hub", [branch("both", 20, "L1 L2", "1", "2")], 30, plug="L14-30P",
            receptacles={"1": "5-20R", "2": "6-20R"}, cord=cord("10 AWG", "25 ft")),
        wire("hub", "feed.1"),
    )  # fmt: skip


@pytest.mark.parametrize("volts", [240, 208])
def test_from_a_leg_to_the_neutral_stand_120_v(volts):
    """Half of 240 V; of two legs of a 208Y/120 wye 208 / sqrt 3, which is 120 V as well."""
    made = hub(volts)
    analysis = analyse(made)
    circuit = analysis.power.circuit("hub/both")
    offered = {one.entry.key: one for one in additions(analysis, circuit)}
    kettle = next(one for one in offered.values() if one.receptacle == ("hub", "1"))
    role = kettle.entry.specification.electrical
    assert role.voltage.si == pytest.approx(120, abs=5)
    assert by_trying(made, End("hub", "1"), circuit.key) <= set(offered)
