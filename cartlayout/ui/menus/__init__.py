"""What can be done, one module a subject; each has its ENTRIES. `subjects()` gathers them."""

import pkgutil
from importlib import import_module

from ..entries import Listed

MENUS = ("File", "Edit", "Arrange", "Cart", "Power", "Water", "View", "Help")
"""In the order of the menu bar."""
_FIRST = ("file", "edit", "arrange", "cart", "power", "water")
"""Modules whose entries come before those of others in a menu they share."""


def subjects() -> tuple[Listed, ...]:
    """The entries of every module in this package, in the order in which menus show them."""
    names = sorted(module.name for module in pkgutil.iter_modules(__path__))
    names.sort(key=lambda name: _FIRST.index(name) if name in _FIRST else len(_FIRST))
    found: list[Listed] = []
    for name in names:
        found.extend(import_module(f"{__name__}.{name}").ENTRIES)
    return tuple(found)
