"""Stock files are read strictly; what is wrong is said with its place."""

import json

import pytest

from cartlayout.stock import StockError
from cartlayout.stock.catalogue import read_stock


def _write(folder, text, name="things.json"):
    folder.joinpath(name).write_text(text, encoding="utf-8")
    return folder


GOOD = {
    "key": "crate",
    "specification": {
        "name": "Crate",
        "kind": "crate",
        "size": {"width": "12 in", "depth": "12 in", "height": "12 in"},
        "mass": "1 kg",
    },
}


def _file(*entries, category="Furniture"):
    return json.dumps({"category": category, "entries": entries})


def test_a_good_file_is_read(tmp_path):
    (one,) = read_stock(_write(tmp_path, _file(GOOD)))
    assert one.name == "Crate"
    assert one.specification.stock == "crate"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("{", r"things\.json: is no JSON"),
        ("[]", r'things\.json: must hold "category" and "entries"'),
        (_file(GOOD, category="Toys"), r"category: 'Toys' is none of"),
        ('{"category": "Furniture", "entries": 3}', r"entries: must be a list"),
        (
            _file({**GOOD, "specification": {**GOOD["specification"], "mass": "1 kilo"}}),
            r"things\.json, entries\[0\] 'crate': specification\.mass: '1 kilo' is no mass",
        ),
        (
            _file({**GOOD, "colour": "red"}),
            r"entries\[0\] 'crate': entry: .*unknown field `colour`",
        ),
        (_file({"key": "crate"}), r"must hold either a specification or placements"),
        (_file({**GOOD, "key": ""}), r"entries\[0\]: key: is empty"),
        (_file(GOOD, GOOD), r"key: 'crate' is also in things\.json"),
        (_file("crate"), r"entries\[0\]: entry: Expected `object`"),
        (
            _file({"key": "set", "placements": [{"id": "a", "entry": "crate"}]}),
            r"placements\[0\]: .*missing required field `dx`",
        ),
        (
            _file(
                {
                    "key": "set",
                    "name": "Set",
                    "placements": [{"id": "a", "entry": "no", "dx": "0 in", "dy": "0 in"}],
                }
            ),
            r"entry 'set': placements\[0\]: entry: there is no single entry 'no'",
        ),
        (
            _file(
                GOOD,
                {
                    "key": "set",
                    "name": "Set",
                    "placements": [{"id": "a", "entry": "crate", "dx": "0 in", "dy": "0 in"}],
                    "runs": [{"type": "wire", "id": "w", "a": {"item": "a", "port": "plug"}}],
                },
            ),
            r"entry 'set': runs\[0\]: must join two ports of the module",
        ),
    ],
)
def test_a_broken_file_is_refused_by_place(tmp_path, text, message):
    with pytest.raises(StockError, match=message):
        read_stock(_write(tmp_path, text))


def test_an_empty_folder_is_refused(tmp_path):
    with pytest.raises(StockError, match="holds no stock files"):
        read_stock(tmp_path)
