"""Plugs and receptacles against what the standards' charts say, written out here by hand."""

import itertools

import pytest

from cartlayout.limits import (
    plug_fit_reason,
    plug_fits,
    power_connector,
    power_connectors,
)

# ANSI/NEMA WD 6 designations as tabled in a public encyclopedia article on NEMA connectors:
# volts, amps, conductors. The L14 pair is from memory.
NEMA = {
    "1-15": (125, 15, ("L", "N")),
    "5-15": (125, 15, ("L", "N", "G")),
    "5-20": (125, 20, ("L", "N", "G")),
    "5-30": (125, 30, ("L", "N", "G")),
    "6-15": (250, 15, ("L1", "L2", "G")),
    "6-20": (250, 20, ("L1", "L2", "G")),
    "6-30": (250, 30, ("L1", "L2", "G")),
    "14-30": (250, 30, ("L1", "L2", "N", "G")),
    "14-50": (250, 50, ("L1", "L2", "N", "G")),
    "L5-20": (125, 20, ("L", "N", "G")),
    "L5-30": (125, 30, ("L", "N", "G")),
    "L6-20": (250, 20, ("L1", "L2", "G")),
    "L6-30": (250, 30, ("L1", "L2", "G")),
    "L14-20": (250, 20, ("L1", "L2", "N", "G")),
    "L14-30": (250, 30, ("L1", "L2", "N", "G")),
    # Trade pages differ; the trailer plug is 120 V with three wires, never 240 V.
    "TT-30": (125, 30, ("L", "N", "G")),
}


@pytest.mark.parametrize("designation", NEMA)
@pytest.mark.parametrize("end", ["P", "R"])
def test_nema_ratings_and_conductors(designation: str, end: str) -> None:
    connector = power_connector(designation + end)
    assert connector is not None
    volts, amps, poles = NEMA[designation]
    assert (connector.volts, connector.amps, connector.poles) == (volts, amps, poles)
    assert connector.kind == ("plug" if end == "P" else "receptacle")
    assert connector.locking == designation.startswith("L")
    assert connector.earthed == (designation != "1-15")


# Trade charts of NEMA plugs, an operators' mailing list, museum pages on CEE 7 and AS/NZS 3112,
# an encyclopedia article on IEC 60309.
GOES_IN = [
    ("5-15P", "5-15R"),
    ("5-15P", "5-20R"),  # a plug page says otherwise and is wrong
    ("5-20P", "5-20R"),
    ("1-15P", "5-15R"),
    ("1-15P", "5-20R"),
    ("6-15P", "6-20R"),
    ("CEE 7/7 P", "CEE 7/3 R"),
    ("CEE 7/7 P", "CEE 7/5 R"),
    ("CEE 7/4 P", "CEE 7/3 R"),
    ("BS 1363 P", "BS 1363 R"),
    ("AS/NZS 3112 10 A P", "AS/NZS 3112 15 A R"),  # an equipment page says otherwise
    ("AS/NZS 3112 15 A P", "AS/NZS 3112 20 A R"),
    ("IEC 60309 16 A blue P", "IEC 60309 16 A blue R"),
    ("hardwired", "hardwired"),
]
STAYS_OUT = [
    ("5-20P", "5-15R"),
    ("6-20P", "5-20R"),
    ("5-20P", "6-20R"),
    ("L5-20P", "5-20R"),
    ("5-20P", "L5-20R"),
    ("5-20P", "5-30R"),
    ("TT-30P", "14-30R"),
    ("TT-30P", "L5-30R"),
    ("14-30P", "14-50R"),  # from memory
    ("AS/NZS 3112 15 A P", "AS/NZS 3112 10 A R"),
    ("IEC 60309 16 A blue P", "IEC 60309 32 A blue R"),
    ("IEC 60309 16 A blue P", "IEC 60309 16 A yellow R"),
    ("IEC 60309 16 A blue P", "IEC 60309 16 A red R"),
    ("BS 1363 P", "CEE 7/3 R"),
    ("CEE 7/7 P", "BS 1363 R"),
    ("5-15P", "BS 1363 R"),
    ("hardwired", "5-20R"),
    ("5-20P", "hardwired"),
]


@pytest.mark.parametrize(("plug", "receptacle"), GOES_IN)
def test_what_goes_in(plug: str, receptacle: str) -> None:
    assert plug_fits(plug, receptacle)


@pytest.mark.parametrize(("plug", "receptacle"), STAYS_OUT)
def test_what_stays_out(plug: str, receptacle: str) -> None:
    assert not plug_fits(plug, receptacle)
    assert "not" in plug_fit_reason(plug, receptacle)


@pytest.mark.parametrize(
    ("plug", "receptacle", "reason"),
    [
        ("5-20P", "5-15R", "a 20 A plug does not go into a 15 A receptacle"),
        ("14-30P", "14-50R", "a 30 A plug does not go into a 50 A receptacle"),
        ("6-20P", "5-20R", "a 250 V plug (6-20P) does not go into a 125 V receptacle (5-20R)"),
        ("L5-20P", "5-20R", "a locking plug does not go into a straight receptacle"),
        ("hardwired", "5-20R", "hardwired equipment goes to terminals, not to a receptacle"),
        ("5-20P", "hardwired", "hardwired equipment goes to terminals, not to a plug"),
        (
            "CEE 7/7 P",
            "BS 1363 R",
            "the CEE 7/7 P plug does not go into the BS 1363 R receptacle: other pins, and 16 A "
            "against 13 A",
        ),
        (
            "IEC 60309 16 A blue P",
            "CEE 7/3 R",
            "the IEC 60309 16 A blue P plug does not go into the CEE 7/3 R receptacle: other pins",
        ),
        ("5-20R", "5-20R", "5-20R is a receptacle, not a plug"),
        ("5-20P", "5-20P", "5-20P is a plug, not a receptacle"),
        ("6-21P", "5-20R", "'6-21P' is no connector that the tables know"),
        ("5-20P", "", "'' is no connector that the tables know"),
    ],
)
def test_reasons_in_plain_words(plug: str, receptacle: str, reason: str) -> None:
    assert plug_fit_reason(plug, receptacle) == reason


def test_nothing_mates_across_voltages_or_loses_its_rating() -> None:
    """IEC 60309, ANSI/NEMA WD 6 and AS/NZS 3112: never a larger plug in a smaller receptacle."""
    for plug, receptacle in itertools.product(power_connectors(), repeat=2):
        if not plug_fits(plug.key, receptacle.key) or plug.kind == "terminals":
            continue
        assert plug.kind == "plug"
        assert receptacle.kind == "receptacle"
        assert plug.volts == receptacle.volts
        assert plug.amps is not None
        assert receptacle.amps is not None
        assert plug.amps <= receptacle.amps
        assert set(plug.poles) <= set(receptacle.poles)


def test_every_pair_has_a_reason_and_every_plug_a_receptacle() -> None:
    for plug, receptacle in itertools.product(power_connectors(), repeat=2):
        assert plug_fit_reason(plug.key, receptacle.key)
    for plug in power_connectors():
        if plug.kind == "plug":
            assert any(plug_fits(plug.key, other.key) for other in power_connectors()), plug.key


def test_keys_end_as_their_kind() -> None:
    for connector in power_connectors():
        assert connector.kind == {"P": "plug", "R": "receptacle"}.get(
            connector.key[-1], "terminals"
        )


@pytest.mark.parametrize(
    ("key", "amps"),
    # BS 1363 13 A; CEE 7/4 and 7/7 16 A, 7/16 2.5 A, 7/17 16 A without earth (museum pages).
    [("BS 1363 P", 13), ("CEE 7/4 P", 16), ("CEE 7/7 P", 16), ("CEE 7/16 P", 2.5)],
)
def test_european_plugs(key: str, amps: float) -> None:
    connector = power_connector(key)
    assert connector is not None
    assert connector.amps == amps


def test_the_flat_plugs_have_no_earth() -> None:
    for key in ("CEE 7/16 P", "CEE 7/17 P"):
        connector = power_connector(key)
        assert connector is not None
        assert not connector.earthed


def test_unknown_keys_are_none() -> None:
    assert power_connector("5-21P") is None
    assert not plug_fits("5-21P", "5-20R")
