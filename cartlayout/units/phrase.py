"""Sentences with numbers in them that are put in words only when somebody's units are known."""

from typing import NamedTuple

import msgspec

from .display import UnitSystem, show


class Value(NamedTuple):
    """An SI number and what it measures (a key of the display table)."""

    si: float
    dimension: str
    decimals: int | None = None
    beside: float | None = None
    """A number in SI that is read against this one: the two never read alike unless they are."""

    def shown(self, system: UnitSystem) -> str:
        """The number in the person's units."""
        return show(self.si, self.dimension, system, self.decimals, self.beside)


class Phrase(msgspec.Struct, frozen=True):
    """A template such as "{item} gets {flow}" with the values to put in.

    Values are `Value` (shown in the person's units) or plain text.
    """

    template: str
    values: tuple[tuple[str, Value | str], ...] = ()

    @classmethod
    def of(cls, template: str, **values: Value | str) -> "Phrase":
        """Build a phrase; every name in braces needs a value."""
        return cls(template, tuple(values.items()))

    def shown(self, system: UnitSystem) -> str:
        """The sentence in the person's units."""
        return self.template.format(
            **{
                name: value.shown(system) if isinstance(value, Value) else value
                for name, value in self.values
            }
        )

    def told_apart(self, a: Value, b: Value) -> "Phrase":
        """The phrase with two numbers, wherever it says them, shown so that they read unlike."""
        values = tuple(
            (name, beside(value, a, b) if isinstance(value, Value) else value)
            for name, value in self.values
        )
        return self if values == self.values else Phrase(self.template, values)


def beside(value: Value, a: Value, b: Value) -> Value:
    """One of two numbers knows of the other; a third stays as it is."""
    if a.dimension != b.dimension or value.dimension != a.dimension or a.si == b.si:
        return value
    other = {a.si: b.si, b.si: a.si}.get(value.si)
    return value if other is None else value._replace(beside=other)
