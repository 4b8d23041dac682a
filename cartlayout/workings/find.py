"""The one door: a number in, its working out."""

from collections.abc import Iterator

from ..analysis import Analysis
from .body import BODY
from .model import Number, Working
from .power import POWER
from .subjects import Subject
from .water import WATER

SUBJECTS: dict[str, Subject] = {**POWER, **WATER, **BODY}
"""By `Number.subject`, in the order in which a sheet tells them."""


def working(analysis: Analysis, number: Number) -> Working | None:
    """How a number came about, or None where the build has no such number (any more).

    Args:
        analysis: of the build as it is now.
        number: which number; the answer's `result` is what boards and findings show.
    """
    subject = SUBJECTS.get(number.subject)
    return subject.working(analysis, number) if subject is not None else None


def numbers(analysis: Analysis) -> Iterator[Number]:
    """All numbers of a build that have a working, subject by subject."""
    for subject in SUBJECTS.values():
        yield from subject.numbers(analysis)
