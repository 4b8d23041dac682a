"""The one-line diagrams of supply water and of drains on their sheet."""

from ...one_line.drawing import pictures
from ...one_line.water import drain_diagram, supply_diagram, water_asides
from ..content import Content, Heading, Job, Paragraph, Part
from .one_line_power import room

_KEY, _TITLE = "one-line-water", "One-line water diagram"
_HOW = (
    "On a tube: its size, bore, length with what is to spare, and what flows with everything "
    "open. At a tap: what its maker asks, then gauge pressures at its inlet with everything shut, "
    "this tap alone open, everything open. Heights (at) are of ports above the floor."
)


def one_line_water(job: Job) -> Content:
    """The sheet, with every tube that leads somewhere; the rest is listed."""
    supply = supply_diagram(job.analysis, job.system)
    drains = drain_diagram(job.analysis, job.system)
    place = room(job, _KEY, _TITLE)
    parts: list[Part] = [Paragraph(_HOW, "muted")]
    if supply.parts:
        parts += pictures(supply, place)
    if drains.parts:
        parts += [Heading("Drains"), *pictures(drains, place)]
    if not supply.parts and not drains.parts:
        parts.append(Paragraph("No tube is on the plan."))
    asides = water_asides(job.analysis)
    if asides:
        parts.append(Heading("Not in the diagram"))
        parts += [Paragraph(line) for line in asides]
    applies = bool(supply.parts or drains.parts or asides)
    return Content(_KEY, _TITLE, "inspector", tuple(parts), applies=applies)
