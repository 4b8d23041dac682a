"""The stock as data: complete, plausible, and joined up with the tables of limits."""

import re
from collections import Counter

import pytest
from building import cart

from cartlayout.build import (
    Appliance,
    Box,
    Extension,
    Generator,
    Load,
    Mains,
    Outlet,
    Pump,
    Strip,
    Tank,
)
from cartlayout.data import resources
from cartlayout.limits import power_connector, tubes, water_connector
from cartlayout.limits.end_fittings import end_fitting
from cartlayout.stock import (
    CATEGORIES,
    SYMBOLS,
    categories,
    entry,
    in_category,
    search,
    stock,
)

SINGLES = [one for one in stock() if one.specification is not None]
MODULES = [one for one in stock() if one.is_module]
SPECIFICATIONS = [pytest.param(one.specification, id=one.key) for one in SINGLES]


def _with_role(*roles):
    return [
        pytest.param(one.specification, id=one.key)
        for one in SINGLES
        if isinstance(one.specification.electrical, roles)
        or isinstance(one.specification.water, roles)
    ]


LOADS = _with_role(Load)
CONNECTED = [
    pytest.param(one.specification, id=one.key) for one in SINGLES if one.specification.ports
]


def test_there_is_enough_of_everything():
    assert len(stock()) >= 75
    assert categories() == CATEGORIES
    count = Counter(one.category for one in stock())
    assert sum(count.values()) == len(stock())
    assert min(count.values()) >= 3


@pytest.mark.parametrize(
    "text",
    # What a cart builder is told to expect in the stock.
    [
        "espresso 1 group 120",
        "espresso 1 group 230",
        "espresso 2 group 208-240",
        "grinder",
        "batch brewer",
        "kettle",
        "hot-water tower",
        "water boiler",
        "undercounter fridge",
        "ice maker",
        "blender",
        "milk steamer",
        "cold-brew taps",
        "soda taps",
        "carbonator",
        "pitcher rinser",
        "hand sink faucet",
        "dump sink",
        "till",
        "light",
        "power strip",
        "breaker box 4 way 120",
        "breaker box 50 120/240",
        "breaker box 16 230",
        "breaker box 32 230",
        "extension cord",
        "generator",
        "battery inverter",
        "outlet",
        "jug",
        "tank",
        "mains tap",
        "demand pump 1.9 60",
        "accumulator",
        "filter",
        "softener",
        "regulator",
        "manifold",
        "tee",
        "check valve",
        "shut-off",
        "gauge",
        "waste tank",
        "floor drain",
        "condensate pump",
        "knock box",
        "cup storage",
        "bin",
        "power module",
        "pump module",
    ],
)
def test_search_finds_what_a_cart_needs(text):
    assert search(text)


def test_search_puts_names_first_and_knows_other_words():
    assert search("pitcher")[0].key == "rinser"
    assert "rinser" in {one.key for one in search("glass rins")}
    assert search("no such thing at all") == ()
    assert search("  ") == stock()


def test_keys_and_names_are_unique():
    assert not [key for key, n in Counter(one.key for one in stock()).items() if n > 1]
    assert not [name for name, n in Counter(one.name for one in stock()).items() if n > 1]
    assert all(re.fullmatch(r"[a-z0-9]+([.-][a-z0-9]+)*", one.key) for one in stock())


@pytest.mark.parametrize("spec", SPECIFICATIONS)
def test_every_number_says_where_it_is_from(spec):
    told = " ".join(origin.of for origin in spec.origins)
    assert all(origin.note for origin in spec.origins)
    assert "size" in told
    if isinstance(spec.electrical, Load):
        assert "electrical" in told
    if isinstance(spec.water, Appliance) and spec.water.inlets:
        assert "inlet pressure" in told
        assert "flow" in told
    if isinstance(spec.water, Pump):
        assert "curve" in told
        assert "cut-out" in told
    if isinstance(spec.water, Tank):
        assert "volume" in told


def test_a_standard_is_named():
    notes = [
        origin.note
        for one in SINGLES
        for origin in one.specification.origins
        if origin.basis == "standard"
    ]
    assert len(notes) > 20
    for note in notes:
        assert re.search(r"NEC 20|Food Code|rule|codes|Code|NEMA|BS 1362|AS/NZS|assumed", note), (
            note
        )


@pytest.mark.parametrize("spec", CONNECTED)
def test_ports_are_on_the_body(spec):
    size = spec.size
    assert len({port.id for port in spec.ports}) == len(spec.ports)
    for port in spec.ports:
        assert -1e-9 <= port.x.si <= size.width.si + 1e-9
        assert -1e-9 <= port.y.si <= size.depth.si + 1e-9
        assert -1e-9 <= port.z.si <= size.height.si + 1e-9


@pytest.mark.parametrize("spec", CONNECTED)
def test_every_connector_is_in_the_tables(spec):
    for port in spec.ports:
        if port.medium == "power":
            connector = power_connector(port.connector)
            assert connector is not None
            assert connector.kind == ("plug" if port.direction == "in" else "receptacle")
            assert (port.cord is not None) == (port.direction == "in")
        else:
            connector = water_connector(port.connector)
            assert connector is not None
            assert port.medium in connector.media
            assert any(
                end_fitting(tube.name, port.connector) is not None and port.medium in tube.media
                for tube in tubes()
            )


@pytest.mark.parametrize("spec", SPECIFICATIONS)
def test_bodies_are_plausible(spec):
    size = spec.size
    assert 0.02 <= size.width.si <= 1.0
    assert 0.02 <= size.depth.si <= 0.8
    assert 0.01 <= size.height.si <= 1.0
    assert 0.04 <= spec.mass.si <= 120
    if spec.mass_full is not None:
        assert spec.mass.si < spec.mass_full.si
    # Nothing on a cart is denser than steel, little is lighter than a basket.
    density = (spec.mass_full or spec.mass).si / (size.width.si * size.depth.si * size.height.si)
    assert 15 < density < 3000
    assert spec.symbol in SYMBOLS


@pytest.mark.parametrize("spec", LOADS)
def test_watts_volts_and_amps_agree(spec):
    load = spec.electrical
    volts = load.voltage.si
    assert load.power is not None or load.current is not None
    if load.power is not None and load.current is not None:
        # P = U I cos(phi): nameplates round amps up by a tenth or so.
        assert load.power.si == pytest.approx(
            volts * load.current.si * load.power_factor, rel=0.08, abs=5
        )
    if load.lowest_voltage is not None and load.highest_voltage is not None:
        assert load.lowest_voltage.si <= volts <= load.highest_voltage.si


@pytest.mark.parametrize("spec", LOADS)
def test_plugs_carry_their_appliance(spec):
    plug = next(port for port in spec.ports if port.medium == "power" and port.direction == "in")
    connector = power_connector(plug.connector)
    load = spec.electrical
    amps = load.current.si if load.current else load.power.si / load.voltage.si / load.power_factor
    assert amps <= connector.amps
    # Plugs of 125 V on 120 V, of 250 V on 230 and 240 V.
    assert 0.85 <= load.voltage.si / connector.volts <= 1.0


@pytest.mark.parametrize("spec", _with_role(Box, Generator))
def test_branches_name_receptacles_that_are_there(spec):
    electrical = spec.electrical
    offered = [port.id for port in spec.ports if port.direction == "out"]
    named = [port for branch in electrical.branches for port in branch.ports]
    assert sorted(named) == sorted(offered)
    for branch in electrical.branches:
        for port_id in branch.ports:
            receptacle = power_connector(spec.port(port_id).connector)
            # NEC 2023 table 210.21(B)(3): a 15 A receptacle on 15 or 20 A, a 20 A one on 20 A.
            assert branch.breaker.si <= max(20, receptacle.amps)
            assert branch.breaker.si >= 10
        assert ("L" in branch.legs) == (electrical.system == "single-phase")


@pytest.mark.parametrize("spec", _with_role(Strip, Extension))
def test_strips_and_cords_pass_on_what_their_plug_carries(spec):
    plug = next(port for port in spec.ports if port.direction == "in")
    assert spec.electrical.rating.si <= power_connector(plug.connector).amps
    for port in spec.ports:
        if port.direction == "out":
            assert power_connector(port.connector).amps <= max(
                20, power_connector(plug.connector).amps
            )


@pytest.mark.parametrize("spec", _with_role(Appliance))
def test_water_windows_are_windows(spec):
    ports = {port.id: port for port in spec.ports}
    for inlet in spec.water.inlets:
        assert ports[inlet.port].medium == "water"
        assert ports[inlet.port].direction == "in"
        assert 0 < inlet.least_pressure.si < inlet.greatest_pressure.si <= 7.0e5
        assert 0.2 / 60000 < inlet.required_flow.si < 10 / 60000
    drains = [port for port in spec.ports if port.medium == "drain"]
    assert spec.water.drained_share == 0 or drains


@pytest.mark.parametrize("spec", _with_role(Mains))
def test_mains_fall_when_water_flows(spec):
    assert spec.water.least.si < spec.water.usual.si < spec.water.greatest.si
    assert spec.water.residual.pressure.si < spec.water.usual.si


@pytest.mark.parametrize("spec", _with_role(Pump))
def test_pump_curves_fall(spec):
    rows = spec.water.curve
    pressures = [row.pressure.si for row in rows]
    flows = [row.flow.si for row in rows]
    assert pressures == sorted(set(pressures))
    assert flows == sorted(set(flows), reverse=True)
    assert 0 < spec.water.cut_in.si < spec.water.cut_out.si <= pressures[-1] + 1
    assert isinstance(spec.electrical, Load)


def _table(key):
    rows = entry(key).specification.water.curve
    return [(row.pressure.text, row.flow.text, row.current.text) for row in rows]


def test_five_chamber_curve_is_the_printed_one():
    # Owner's manual IMI-160 Rev D, 7/21/15, table for the five-chamber head at 12 V.
    assert _table("pump-5-chamber-12") == [
        ("0 psi", "2.1 gal/min", "0.8 A"),
        ("9 psi", "1.75 gal/min", "1.7 A"),
        ("17 psi", "1.6 gal/min", "2.3 A"),
        ("26 psi", "1.4 gal/min", "3 A"),
        ("35 psi", "1.3 gal/min", "3.5 A"),
        ("43 psi", "1.2 gal/min", "3.9 A"),
        ("52 psi", "1.1 gal/min", "4.4 A"),
    ]


def test_three_chamber_curve_is_the_printed_one():
    # Owner's manual 911-415 Rev L, 06/12: gallons an hour at 12 V from 20 to 230 ft of head.
    printed = [56, 54, 52, 50, 49, 47, 46, 44, 43, 41, 36]
    rows = entry("pump-3-chamber-12").specification.water.curve
    for row, gallons_an_hour in zip(rows, printed, strict=True):
        assert float(row.flow.text.split()[0]) * 60 == pytest.approx(gallons_an_hour, abs=0.05)


def test_every_symbol_is_drawn():
    drawn = {path.stem for path in (resources() / "symbols").glob("*.svg")}
    assert set(SYMBOLS) <= drawn
    assert {one.symbol for one in stock()} <= set(SYMBOLS)


def test_large_waste_tanks_drain_by_an_inch():
    # Food Code 5-401.11 as carried by Ohio Adm. Code 3717-1-05.3(A): at least 1 in (25 mm) bore.
    outlets = [
        one.specification.port("outlet").connector
        for one in SINGLES
        if one.specification.kind == "waste tank" and one.specification.port("outlet")
    ]
    assert len(outlets) >= 4
    assert set(outlets) == {"drain 1 in", "drain 25 mm"}


def test_tanks_hold_less_than_their_body():
    for one in SINGLES:
        water = one.specification.water
        if isinstance(water, Tank):
            size = one.specification.size
            outside = size.width.si * size.depth.si * size.height.si
            assert 0.5 < water.volume.si / outside < 1.0


def test_handbook_figures():
    # ASHRAE Handbook Fundamentals 2001, chapter 29, table 5: 12 cup brewer 1660 W,
    # warming burner 100 W, blender 480 W a litre of jar.
    def watts(key):
        return entry(key).specification.electrical.power.si

    assert watts("batch-brewer-120") == 1660
    assert watts("warmer-120") == 100
    assert watts("blender-120") / 1.9 == pytest.approx(480, rel=0.01)
    # Electricians' worked list of restaurant equipment: undercounter fridge 324 VA, 2.7 A.
    assert entry("fridge-undercounter-120").specification.electrical.current.si == 2.7
    # Installation table of a modular ice machine: 20 to 80 psi, 0.6 to 32 degC.
    ice = entry("ice-maker-120").specification.water.inlets[0]
    assert (ice.least_pressure.text, ice.greatest_pressure.text) == ("20 psi", "80 psi")
    assert ice.highest_temperature.text == "32 degC"


def test_venue_equipment_stands_at_the_venue():
    for one in SINGLES:
        electrical, water = one.specification.electrical, one.specification.water
        at_venue = isinstance(electrical, (Outlet, Generator)) or isinstance(water, Mains)
        if at_venue:
            assert one.stands == "venue"
        if isinstance(electrical, Outlet):
            # Nobody knows the circuit of an outlet that has just been placed.
            assert electrical.circuit is None


def test_regions_match_voltages():
    for one in SINGLES:
        electrical = one.specification.electrical
        if isinstance(electrical, Load):
            american = electrical.voltage.si in (120, 240)
            assert one.regions == (("US",) if american else one.regions)
            assert one.regions
            assert ("US" in one.regions) == american


def test_a_cart_takes_what_is_meant_for_its_base():
    base = next(level for level in cart().levels if level.name == "base")
    for one in stock():
        if one.stands == "base":
            assert one.size_m[2] <= base.clear_height.si, one.key


def test_entries_keep_their_category():
    for category in categories():
        assert in_category(category)
        assert {one.category for one in in_category(category)} == {category}


def test_an_unknown_key():
    with pytest.raises(KeyError):
        entry("no such key")
