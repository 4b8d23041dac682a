"""What a module that knows workings offers; `find.py` puts all of them together."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from ..analysis import Analysis
from .model import Number, Working


class Subject(NamedTuple):
    """What a module that knows workings offers for one subject."""

    working: Callable[[Analysis, Number], Working | None]
    """None: the build has no such number (any more)."""
    numbers: Callable[[Analysis], Iterator[Number]]
    """All numbers of the subject that have a working, in an order worth reading."""
