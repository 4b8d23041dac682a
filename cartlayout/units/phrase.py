"""Sentences with numbers in them that are put in words only when somebody's units are known."""

from typing import NamedTuple

import msgspec

from .display import UnitSystem, show


class Value(NamedTuple):
    """An SI number and what it measures (a key of the display table)."""

    si: float
    dimension: str
    decimals: int | None = None

    def shown(self, system: UnitSystem) -> str:
        """The number in the person's units."""
        return show(self.si, self.dimension, system, self.decimals)


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
