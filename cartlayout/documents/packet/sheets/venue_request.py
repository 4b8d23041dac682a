"""What is asked of the venue, on one page: circuits, water, drain, floor, way in."""

from functools import partial

from ....units import Phrase, Value
from ..content import Content, Job, Paragraph, Part, Picture
from ..site import places, site_sketch
from ..venue.circuits import all_fed, circuits, fewest
from ..venue.floor import floor, way_in
from ..venue.water import water_and_drain


def venue_request(job: Job) -> Content:
    """The sheet for a venue: everything the cart needs that is not on it."""
    parts: list[Part] = [Paragraph(_opening(job), "strong")]
    drawn = circuits(job)
    parts.append(drawn)
    if not drawn.rows or not all_fed(job):
        parts.append(fewest(job))
    parts += [water_and_drain(job), floor(job)]
    way = way_in(job)
    if way.rows:
        parts.append(way)
    if places(job):
        parts.append(
            Picture(
                partial(site_sketch, job),
                least_height=60.0,
                title="Where: letters of the circuits, W water, D drain",
            )
        )
    return Content(
        "venue-request",
        "What we ask of the venue",
        "venue",
        tuple(parts),
        is_wide=False,
        one_page=True,
        cautions=(
            "Please do not add, change or open outlets, breakers or pipes for this list yourself: "
            "a licensed electrician or plumber does that.",
        ),
    )


def _opening(job: Job) -> Phrase:
    build = job.build
    where = f" at {build.venue.name}" if build.venue.name else ""
    asks = f" Questions: {build.designer}." if build.designer else ""
    return Phrase.of(
        "For “{name}”{where}, {hours} of service, we ask for what stands here. Please tell us what "
        "differs, whoever else uses these circuits, and the breaker of each outlet.{asks}",
        name=build.name or "a beverage cart",
        where=where,
        hours=Value(build.service.hours.si, "duration"),
        asks=asks,
    )
