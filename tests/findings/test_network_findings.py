"""Connection problems in words: which standard the connectors follow is named."""

import building as b

from cartlayout.analysis import analyse
from cartlayout.units import UnitSystem


def test_a_misfit_names_plug_receptacle_and_their_standard() -> None:
    build = b.build(
        b.outlet("wall", receptacle="5-15R"),
        b.load("oven", 1800, plug="5-20P"),
        b.wire("oven", "wall.1"),
    )
    found = {finding.code: finding for finding in analyse(build).findings}
    said = found["network.power.misfit"]
    assert said.title.shown(UnitSystem.US) == "oven does not plug into wall"
    # ANSI/NEMA WD 6 lays down both configurations.
    assert "NEMA WD 6" in said.source


def test_two_joined_supplies_are_a_stop_with_both_named() -> None:
    build = b.build(
        b.outlet("wall"),
        b.battery("battery"),
        b.wire("wall.1", "battery.1", run_id="double"),
    )
    found = {finding.code: finding for finding in analyse(build).findings}
    said = found["network.power.two-supplies"]
    assert said.severity == "stop"
    assert set(said.items) == {"wall", "battery"}
    assert "back-feed" in said.detail.shown(UnitSystem.US)
