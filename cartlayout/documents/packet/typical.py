"""What the numbers of a sheet rest on that nobody has checked, said under them."""

from collections.abc import Iterable

from ...findings.number import Number
from ...workings.rests import SIGN, typical_figures
from .content import Job, Paragraph

_MOST_NAMED = 12


def typical_note(job: Job, numbers: Iterable[Number]) -> tuple[Paragraph, ...]:
    """One paragraph that names typical figures; none where every one was read off."""
    figures = typical_figures(job.analysis, *numbers)
    if not figures:
        return ()
    named = ", ".join(figures[:_MOST_NAMED])
    more = len(figures) - _MOST_NAMED
    tail = f" and {more} more" if more > 0 else ""
    return (
        Paragraph(
            f"{SIGN} These numbers rest on typical figures that nobody has checked: {named}{tail}. "
            "What would change a verdict stands on 'To be checked before drilling'.",
            "muted",
        ),
    )
