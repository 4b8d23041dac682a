"""Set-up and shut-down, step by step, with what to expect and everything that holds water."""

from ....units import counted
from ..content import Checks, Content, Job, Paragraph, Part
from ..running.expected import day_table, gauges_table, items_table, taps_table, tubes_table
from ..running.set_up import Line, heat, place_and_power, water
from ..running.shut_down import shut_down


def checklist(job: Job) -> Content:
    """The sheet for whoever runs the cart."""
    parts: list[Part] = [Paragraph(_OPENING, "muted")]
    if stops := job.analysis.count("stop"):
        parts.append(
            Paragraph(
                f"This build has {counted(stops, 'finding')} to stop for. Mend what they say "
                "before the cart is set up; the program and the sheet “Plan review” list them.",
                "caution",
            )
        )
    first = 1
    for title, lines in (
        ("Set up: place and power", tuple(place_and_power(job))),
        ("Set up: water", tuple(water(job))),
        ("Set up: heat", tuple(heat(job))),
    ):
        parts += _steps(title, lines, first)
        first += len(lines)
    parts += [gauges_table(job), taps_table(job), day_table(job)]
    parts += _steps("Shut down", tuple(shut_down(job)), first)
    parts += [items_table(job), tubes_table(job), Paragraph(_FROST, "caution")]
    return Content(
        "checklist",
        "Set-up and shut-down",
        "operator",
        tuple(parts),
        is_wide=False,
        cautions=(
            "Water and electricity: hands dry, plugs and outlets dry. Something trips, smells, "
            "buzzes or drips: power off first, then look.",
        ),
    )


_OPENING = (
    "In this order: power that nothing draws from yet, then water, then heat. Makers' instructions "
    "and the venue's rules go first. Order of steps: common practice, no source."
)
_FROST = (
    "Where it may freeze, nothing that holds water stays out over night: a filter, a pump or a "
    "boiler that has frozen leaks or bursts."
)


def _steps(title: str, lines: tuple[Line, ...], first: int) -> list[Part]:
    return [Checks(lines, title, first=first)] if lines else []
