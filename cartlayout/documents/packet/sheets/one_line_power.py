"""The one-line power diagram on its sheet."""

from ...one_line.cutting import Room
from ...one_line.drawing import pictures
from ...one_line.power import power_asides, power_diagram
from ..content import Content, Heading, Job, Paragraph, Part
from ..pages import lay_out

_KEY, _TITLE = "one-line-power", "One-line power diagram"
_WORDS = 9.0
"""Room that the words over the first picture take, millimetres."""
_HOW = (
    "Everything on. At a breaker: circuit, rating, voltage and legs, amps it carries. At an "
    "appliance: amps counted, watts, volts at its plug. On a line: plug, gauge and length of its "
    "cord. A number in an arrow goes on at the same number."
)


def one_line_power(job: Job) -> Content:
    """The sheet, with everything that power reaches; what it does not reach is listed."""
    diagram = power_diagram(job.analysis, job.system)
    parts: list[Part] = [Paragraph(_HOW, "muted")]
    if diagram.parts:
        parts += pictures(diagram, room(job, _KEY, _TITLE))
    else:
        parts.append(Paragraph("No outlet, generator or battery is on the plan."))
    asides = power_asides(job.analysis)
    if asides:
        parts.append(Heading("Not in the diagram"))
        parts += [Paragraph(line) for line in asides]
    applies = bool(diagram.parts or asides)
    return Content(_KEY, _TITLE, "inspector", tuple(parts), applies=applies)


def room(job: Job, key: str, title: str) -> Room:
    """What a page of a sheet has for a picture under a few words."""
    area = lay_out(Content(key, title, "inspector", ()), job).area
    return Room(area.width, area.height - _WORDS)
