"""Every table loads, every row says where it comes from, and a broken table says where it is."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from cartlayout import limits
from cartlayout.limits import LimitsError, profiles, tables, water_practice
from cartlayout.limits.breaker_times import breaker_standards
from cartlayout.limits.cord_protection import cord_protections
from cartlayout.limits.cords import _Table as CordTable
from cartlayout.limits.demand import demand_rules
from cartlayout.limits.derating import derating
from cartlayout.limits.fittings import _fittings
from cartlayout.limits.leakage import leakage_ceilings
from cartlayout.limits.leakage_times import leakage_devices
from cartlayout.limits.power_connectors import _Table as ConnectorTable
from cartlayout.limits.tables import decode_table, folder, read_table
from cartlayout.limits.unknown_ranges import unknown_ranges
from cartlayout.units import ConductorSize

FILES = sorted(folder().rglob("*.json"))
STATUSES = {"found", "derived", "common practice", "from memory"}
LOADERS = {
    "conductors.json": lambda: limits.resistance_ohm_per_m(_size("12 AWG")),
    "connectors_power.json": limits.power_connectors,
    "connectors_water.json": limits.water_connectors,
    "cords.json": lambda: limits.ampacity(_size("12 AWG"), 2),
    "drain_practice.json": limits.drain_practice,
    "end_fittings.json": lambda: limits.end_fitting("1/4 in tube", "1/4 push-fit"),
    "extensions.json": limits.reel_rules,
    "fittings.json": limits.fittings,
    "tubes.json": limits.tubes,
    "unknown_ranges.json": unknown_ranges,
    "water_practice.json": lambda: water_practice.water_practice(),
    "body_practice.json": limits.body_practice,
    "breaker_times.json": breaker_standards,
    "leakage.json": leakage_ceilings,
    "leakage_times.json": leakage_devices,
    "derating.json": derating,
    "demand.json": demand_rules,
    "cord_protection.json": cord_protections,
    "materials.json": limits.materials,
    "us.json": lambda: limits.profile("US"),
    "uk.json": lambda: limits.profile("UK"),
    "eu.json": lambda: limits.profile("EU"),
    "au.json": lambda: limits.profile("AU"),
}


def _size(text: str) -> ConductorSize:
    return ConductorSize(text)


def _rows(value: Any, place: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every object that holds a number or a key of its own, with its place."""
    if isinstance(value, dict):
        if any(not isinstance(inner, (dict, list)) for inner in value.values()):
            yield place, value
        for key, inner in value.items():
            yield from _rows(inner, f"{place}.{key}")
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _rows(inner, f"{place}[{number}]")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_table_is_read_by_somebody_and_yields_something(path: Path) -> None:
    assert LOADERS[path.name]()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_row_has_source_edition_and_status(path: Path) -> None:
    seen = 0
    for place, row in _rows(json.loads(path.read_text("utf-8")), path.name):
        if place == path.name:
            continue  # the head of a region, which has an edition and a caution instead
        seen += 1
        assert row.get("source", "").strip(), place
        assert isinstance(row.get("edition"), str), place
        assert row.get("status") in STATUSES, place
    assert seen > 0


def test_tables_are_written_in_utf_8_and_end_with_a_line_end() -> None:
    for path in FILES:
        assert path.read_bytes().endswith(b"}\n"), path


_GOOD = {
    "size": "12 AWG",
    "two_loaded_a": 25,
    "three_loaded_a": 20,
    "source": "a standard",
    "edition": "",
    "status": "found",
}


@pytest.mark.parametrize(
    ("change", "place", "words"),
    [
        ({"size": "12 inn"}, "awg[1].size", "is no conductor size; try '12 AWG'"),
        ({"size": 12}, "awg[1].size", "12 is no conductor size"),
        ({"two_loaded_a": "many"}, "awg[1].two_loaded_a", "Expected `float`, got `str`"),
        ({"source": "  "}, "awg[1]", "a row needs its source"),
        ({"status": "sure"}, "awg[1].status", "Invalid enum value 'sure'"),
        ({"amps": 3}, "awg[1]", "unknown field `amps`"),
    ],
)
def test_a_broken_row_is_named(change: dict[str, object], place: str, words: str) -> None:
    text = json.dumps({"awg": [_GOOD, {**_GOOD, **change}]}).encode()
    with pytest.raises(LimitsError) as error:
        decode_table(text, "cords.json", CordTable)
    assert str(error.value).startswith(f"cords.json: {place}: ")
    assert words in str(error.value)


def test_a_missing_field_is_named() -> None:
    with pytest.raises(LimitsError, match=r"cords\.json: awg\[0\]: .*required field"):
        decode_table(b'{"awg": [{"size": "12 AWG"}]}', "cords.json", CordTable)


@pytest.mark.parametrize("text", [b"", b"{", b"\xff\xfe", b'{\n\n"awg": [,]}', b"[]", b"null"])
def test_what_is_no_table_is_refused_with_the_file_named(text: bytes) -> None:
    with pytest.raises(LimitsError, match=r"^cords\.json: "):
        decode_table(text, "cords.json", CordTable)


def test_bad_json_is_named_by_line() -> None:
    with pytest.raises(LimitsError, match=r"^cords\.json: line 3: "):
        decode_table(b'{\n"awg":\n[,]}', "cords.json", CordTable)


def test_a_missing_file_is_named_with_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tables, "folder", lambda: tmp_path)
    with pytest.raises(LimitsError, match=r"cords\.json cannot be read: .*Install the program"):
        read_table("cords.json", CordTable)


def test_two_rows_with_one_key_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    table = json.loads((folder() / "fittings.json").read_text("utf-8"))
    table["fittings"].append(table["fittings"][0])
    (tmp_path / "fittings.json").write_text(json.dumps(table), encoding="utf-8")
    monkeypatch.setattr(tables, "folder", lambda: tmp_path)
    number = len(table["fittings"]) - 1
    with pytest.raises(LimitsError, match=rf"fittings\.json: fittings\[{number}\]: .* is there"):
        _fittings.__wrapped__()


def test_connector_tables_refuse_a_pole_list_of_another_type() -> None:
    row = {
        "key": "x",
        "kind": "plug",
        "family": "x",
        "volts": 125,
        "amps": 15,
        "poles": ["L", 3],
        "source": "s",
        "edition": "",
        "status": "found",
    }
    text = json.dumps({"connectors": [row], "fits": []}).encode()
    with pytest.raises(LimitsError, match=r"connectors\[0\]\.poles\[1\]"):
        decode_table(text, "connectors_power.json", ConnectorTable)


def test_citations_say_how_sure_they_are() -> None:
    seen = set()
    for profile in profiles():
        for name in profile.__struct_fields__:
            value = getattr(profile, name)
            if isinstance(value, limits.Setting):
                seen.add(value.status)
                assert value.source in value.citation
                assert ("from memory" in value.citation) == (value.status == "from memory")
    assert {"found", "from memory"} <= seen
