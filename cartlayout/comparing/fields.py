"""Two values of the document held against each other, field by field."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec

from ..build import End
from ..units.quantities import Quantity

NOT_GIVEN = "not given"


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that is not the same; texts as their author wrote them."""

    path: tuple[str, ...]
    """Names of the fields that lead to it, with names or numbers of parts in lists."""
    before: str | None
    """None: the part was not there."""
    after: str | None
    """None: the part is gone."""

    @property
    def where(self) -> str:
        """The path in words: "electrical, power factor"."""
        return ", ".join(one.replace("_", " ") for one in self.path)

    @property
    def text(self) -> str:
        """In one line."""
        if self.before is None:
            return f"{self.where} added: {self.after}" if self.after else f"{self.where} added"
        if self.after is None:
            return f"{self.where} removed"
        return f"{self.where}: {self.before} → {self.after}"


def differences(
    before: Any, after: Any, path: tuple[str, ...] = (), without: frozenset[str] = frozenset()
) -> Iterator[Difference]:
    """Every field in which two values differ, in the order of the document.

    Args:
        before: a struct of the document, a tuple of them, or a plain value.
        after: of the same kind, or of another.
        path: that leads to them.
        without: names of fields of the outermost structs that are not looked at.
    """
    if before is after or before == after:
        return
    if type(before) is type(after) and isinstance(before, msgspec.Struct):
        if isinstance(before, End):
            yield Difference(path, said(before), said(after))
            return
        for name in before.__struct_fields__:
            if name in without:
                continue
            old, new = getattr(before, name), getattr(after, name)
            if name.endswith("_m") and old != new:  # the only bare number with a unit: metres
                yield Difference((*path, name.removesuffix("_m")), f"{old:g} m", f"{new:g} m")
            else:
                yield from differences(old, new, (*path, name))
    elif isinstance(before, tuple) and isinstance(after, tuple) and _of_parts(before, after):
        yield from _in_lists(before, after, path)
    else:
        yield Difference(path, said(before), said(after))


def said(value: Any) -> str:
    """A value in a few words."""
    if value is None or value == "" or value == ():
        return NOT_GIVEN
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, End):
        return f"{value.item}, {value.port}"
    if isinstance(value, tuple):
        return ", ".join(said(one) for one in value)
    if isinstance(value, msgspec.Struct):
        return _name(value) or _kind(value)
    return str(value)


def _of_parts(before: tuple[Any, ...], after: tuple[Any, ...]) -> bool:
    return all(isinstance(one, msgspec.Struct) for one in (*before, *after))


def _in_lists(
    before: tuple[Any, ...], after: tuple[Any, ...], path: tuple[str, ...]
) -> Iterator[Difference]:
    """Parts are the same that are called the same; those without a name go by their place."""
    old, new = _keyed(before), _keyed(after)
    for key, one in old.items():
        if key in new:
            yield from differences(one, new[key], (*path, key))
        else:
            yield Difference((*path, key), said(one), None)
    for key, one in new.items():
        if key not in old:
            yield Difference((*path, key), None, _unless(said(one), key))


def _keyed(parts: tuple[Any, ...]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for at, part in enumerate(parts, 1):
        name = _name(part) or str(at)
        found[name if name not in found else f"{name} ({at})"] = part
    return found


def _unless(text: str, same: str) -> str:
    return "" if text == same else text


def _name(part: Any) -> str:
    for name in ("id", "name", "of", "purpose", "case"):
        found = getattr(part, name, None)
        if isinstance(found, str) and found:
            return found
    return ""


def _kind(part: Any) -> str:
    """A struct without a name: what it is, in lower case words."""
    name = type(part).__name__
    return "".join(f" {one.lower()}" if one.isupper() else one for one in name).strip()
