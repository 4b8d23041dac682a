"""Shorter words for far zooms, more words for near ones."""

from functools import lru_cache

from ...build import Item, Specification
from ...units import UnitSystem, show, show_plain

_WHOLE = 6
"""Words of so many letters and less are written out."""
_CUTS = (5, 4, 3)
_VOWELS = "aeiouy"
_KEPT: dict[tuple[int, UnitSystem], tuple[Specification, str]] = {}
_MOST_KEPT = 4096


@lru_cache(maxsize=1024)
def shorter(name: str) -> tuple[str, ...]:
    """Other ways to write a name, the longest first: its first part, then abbreviated.

    Long words are cut before a vowel and end with a full stop, as dictionaries do.

    >>> shorter("Espresso machine, 2 group")
    ('Espresso machine', 'Espr. mach.')
    >>> shorter("Till")
    ()
    """
    head = name.split(",")[0].split(" (")[0].strip()
    cut = " ".join(_cut(word) for word in head.split())
    return tuple(dict.fromkeys(one for one in (head, cut) if one and one != name))


def _cut(word: str) -> str:
    if len(word) <= _WHOLE or not word.isalpha():
        return word
    for length in _CUTS:
        if word[length].lower() in _VOWELS and word[length - 1].lower() not in _VOWELS:
            return word[:length] + "."
    return word[:4] + "."


def details(item: Item, system: UnitSystem) -> str:
    """Lines that a plan seen from near has room for: which one it is, its size, its plug."""
    specification = item.specification
    key = id(specification), system
    kept = _KEPT.get(key)
    # The specification is kept too: an id alone could come to mean another one.
    if kept is not None and kept[0] is specification:
        return kept[1]
    if len(_KEPT) >= _MOST_KEPT:
        _KEPT.clear()
    text = "\n".join(_lines(specification, system))
    _KEPT[key] = specification, text
    return text


def _lines(specification: Specification, system: UnitSystem) -> list[str]:
    size = specification.size
    wide, deep = (show_plain(side.si, "length", system) for side in (size.width, size.depth))
    high = show(size.height.si, "length", system)
    _, _, which = specification.name.partition(", ")
    plugs = [port.connector for port in specification.ports if port.medium == "power"]
    made = [which] if which else []
    made.append(f"{wide} × {deep} × {high}")
    if len(plugs) == 1:
        made.append(f"plug {plugs[0]}" if plugs[0].endswith("P") else plugs[0])
    return made
