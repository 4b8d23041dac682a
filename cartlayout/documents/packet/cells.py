"""What stands in a cell: the same words and digits on paper and in files."""

from ...units import Phrase, UnitSystem, Value, show_plain
from ...units.display import unit_label
from .content import Cell, Column


def head(column: Column, system: UnitSystem) -> str:
    """Title of a column, with the unit of its numbers: "Current, A"."""
    unit = unit_label(column.dimension, system) if column.dimension else ""
    return f"{column.title}, {unit}" if unit else column.title


def is_plain(value: Value, column: Column, system: UnitSystem) -> bool:
    """Whether the head says the unit of a value, so that the cell need not."""
    if not column.dimension:
        return False
    return unit_label(value.dimension, system) == unit_label(column.dimension, system)


def shown(cell: Cell, column: Column | None, system: UnitSystem) -> str:
    """A cell as it is read.

    Args:
        cell: what stands there.
        column: whose head may say the unit; None: the cell says it.
        system: whose units.
    """
    if cell is None:
        return ""
    if isinstance(cell, Value):
        if column is not None and is_plain(cell, column, system):
            return show_plain(cell.si, cell.dimension, system, cell.decimals, cell.beside)
        return cell.shown(system)
    return words(cell, system)


def words(text: Phrase | str, system: UnitSystem) -> str:
    """A sentence in the person's units."""
    return text.shown(system) if isinstance(text, Phrase) else text


def has_verdicts(marks: tuple[str, ...]) -> bool:
    """Whether a table says how its rows stand."""
    return any(marks)
