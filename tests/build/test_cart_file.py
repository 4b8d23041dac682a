"""`.cart` files: strict reading that names the place, writing that loses nothing."""

import json
import os
from pathlib import Path
from typing import Any

import building as b
import pytest

from cartlayout.build import Build, file, schema
from cartlayout.build.file import CartFileError, decode, encode
from cartlayout.data import resources
from cartlayout.units import Length


@pytest.fixture
def build() -> Build:
    return b.build(
        b.outlet("wall"),
        b.load("kettle", 1500, size=("14.5 in", "9 1/2 in", "10 in")),
        b.wire("kettle", "wall.1"),
    )


def changed(build: Build, change: Any) -> bytes:
    raw = json.loads(file.encode(build))
    change(raw)
    return json.dumps(raw).encode()


def test_a_build_comes_back_equal(build: Build, tmp_path: Path) -> None:
    path = tmp_path / "market.cart"
    file.save(build, path)
    assert file.load(path) == build


def test_authored_units_stay_as_written(build: Build) -> None:
    text = file.encode(build).decode()
    assert '"14.5 in"' in text
    assert '"9 1/2 in"' in text


def test_each_item_and_run_has_its_line(build: Build) -> None:
    lines = file.encode(build).decode().splitlines()
    assert sum('"id": "kettle"' in line for line in lines) == 1
    assert sum('"id"' in line for line in lines) == len(build.items) + len(build.runs)


def set_at(*path: Any) -> Any:
    """A change that puts the last of `path` where the rest leads."""

    def change(raw: dict[str, Any]) -> None:
        at: Any = raw
        for step in path[:-2]:
            at = at[step]
        at[path[-2]] = path[-1]

    return change


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            set_at("build", "items", 1, "specification", "size", "width", "12 inn"),
            "items[1].specification.size.width: '12 inn' is no length; try '12 in'",
        ),
        (set_at("build", "items", 1, "x", 5), "items[1].x: 5 is no length"),
        (set_at("build", "items", 1, "colour", "red"), "unknown field `colour`"),
        (set_at("build", "items", 1, "id", "wall"), "items[1].id: 'wall' is also items[0]"),
        (set_at("build", "items", 1, "id", ""), "items[1].id: is empty"),
        (set_at("build", "items", 0, "rotation", "a lot"), "items[0].rotation"),
        (set_at("build", "region", "MOON"), "region: Invalid enum value 'MOON'"),
        (set_at("version", 99), "newer program (file version 99"),
        (set_at("version", "1"), '"version" must be a whole number'),
        (set_at("version", True), '"version" must be a whole number'),
        (set_at("format", "something else"), "is no cart build"),
    ],
)
def test_what_is_wrong_is_named_with_its_place(build: Build, change: Any, message: str) -> None:
    with pytest.raises(CartFileError) as caught:
        file.decode(changed(build, change))
    assert message in str(caught.value)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "line 1, column 1"),
        (b"{", "line 1, column 2"),
        (b"[]", "is no cart build"),
        (b"\xff\xfe", "is not UTF-8 text"),
        (b'{"format": "x", "format": "y"}', "'format' stands twice"),
        (b"[" * 100_000, "nested too deeply"),
    ],
)
def test_what_is_no_build_at_all_is_refused_with_words(data: bytes, message: str) -> None:
    with pytest.raises(CartFileError, match=message.replace("(", r"\(")):
        file.decode(data)


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(CartFileError, match=r"nowhere\.cart"):
        file.load(tmp_path / "nowhere.cart")


def test_a_crash_while_writing_leaves_the_old_file(
    build: Build, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "market.cart"
    file.save(build, path)
    before = path.read_bytes()

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(CartFileError, match=r"No space left on device.*untouched"):
        file.save(b.build(), path)
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path], "no temporary file stays behind"


def test_saving_keeps_a_link_and_the_files_mode(build: Build, tmp_path: Path) -> None:
    real, link = tmp_path / "real.cart", tmp_path / "link.cart"
    file.save(build, real)
    real.chmod(0o640)
    link.symlink_to(real)
    file.save(b.build(name="Other"), link)
    assert link.is_symlink()
    assert file.load(real).name == "Other"
    assert real.stat().st_mode & 0o777 == 0o640


def test_the_shipped_schema_is_that_of_the_structs() -> None:
    shipped = (resources() / "cart.schema.json").read_text(encoding="utf-8")
    assert shipped == schema.schema_text(), "run: python resources/make_schema.py"


def test_the_schema_describes_quantities_as_texts() -> None:
    width = schema.schema()["$defs"]["Size"]["properties"]["width"]
    assert width["type"] == "string"
    assert width["title"] == Length.name


def test_a_file_of_version_1_opens_with_its_door_and_its_clearances() -> None:
    text = """{"format": "cartlayout build", "version": 1, "build": {
      "name": "Old one",
      "cart": {"width": "6 ft", "depth": "30 in", "door_width": "32 in",
        "levels": [{"name": "counter", "height": "36 in", "clear_height": "40 in"}]},
      "venue": {"name": "Square"},
      "items": [{"id": "kettle", "level": "counter", "x": "9 in", "y": "8 in",
        "specification": {"name": "Kettle", "kind": "kettle", "mass": "1.2 kg",
          "size": {"width": "9 in", "depth": "7 in", "height": "9 in"},
          "clearance": {"left": "1 in", "top": "10 in"}}}]}}"""
    build = decode(text.encode())
    (door,) = build.venue.passages
    assert (build.venue.name, door.kind, door.width.text) == ("Square", "door", "32 in")
    (clearance,) = build.items[0].specification.clearances
    assert (clearance.left.text, clearance.top.text) == ("1 in", "10 in")
    assert decode(encode(build)) == build


@pytest.mark.parametrize(
    ("rating", "warm"),
    # Fittings brochure, acetal push-fit of 3/8 in: 150 psi at 68 degF, 100 psi at 150 degF.
    [("150 psi", "100 psi"), ("120 psi", None)],
)
def test_tubes_of_an_earlier_file_bear_warm_water(rating, warm):
    """Where a tube is as the table has it; one with a rating of the person's own stays as it is."""
    text = f"""{{"format": "cartlayout build", "version": 2, "build": {{
        "name": "Before", "cart": {{"width": "72 in", "depth": "30 in", "levels": [
            {{"name": "base", "height": "6 in", "clear_height": "28 in"}}]}},
        "items": [], "runs": [{{"type": "tube", "id": "line", "a": {{"item": "a", "port": "b"}},
            "tube": {{"name": "3/8 in tube", "outer": "3/8 in", "bore": "0.250 in",
                "material": "polyethylene", "rating": "{rating}", "rating_at": "68 degF"}}}}]
        }}}}"""
    tube = decode(text.encode()).runs[0].tube
    assert (tube.warm_rating and tube.warm_rating.text) == warm
    assert (tube.warm_rating_at and tube.warm_rating_at.text) == (warm and "150 degF")


def test_fridges_of_an_earlier_file_stay_on_overnight():
    """What keeps things cold does; whatever else there is does not."""
    text = """{"format": "cartlayout build", "version": 3, "build": {
        "name": "Before", "cart": {"width": "72 in", "depth": "30 in", "levels": [
            {"name": "base", "height": "6 in", "clear_height": "28 in"}]},
        "items": [%s, %s]}}"""
    item = """{"id": "%s", "level": "base", "x": "1 ft", "y": "1 ft", "specification": {
        "name": "One", "kind": "%s", "mass": "9 kg",
        "size": {"width": "1 ft", "depth": "1 ft", "height": "1 ft"},
        "electrical": {"role": "load", "voltage": "120 V", "power": "200 W"}}}"""
    build = decode((text % (item % ("a", "fridge"), item % ("b", "kettle"))).encode())
    assert [one.specification.electrical.overnight for one in build.items] == [True, False]
    assert decode(encode(build)) == build
