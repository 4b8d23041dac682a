"""Check valves: behind sources that run into each other, before what carbonates."""

from collections.abc import Iterator, Sequence
from functools import partial

from ...analysis import Analysis
from ...build import Build, CheckValve, End, Mains, Tank, TubeRun
from ...build.edits import remove
from ...findings import Finding
from ...stock import StockEntry
from ...units import Phrase
from .model import Candidate
from .water_inserts import ends_of, put_at
from .water_kit import PLUMBER, exchanged, of_the_stock, place


def _checks(build: Build, *, vented: bool) -> list[StockEntry]:
    return [entry for entry, role in of_the_stock(build, CheckValve) if role.vented is vented]


def _checked(build: Build, ends: Sequence[End], entries: Sequence[StockEntry]) -> Build:
    after = build
    for end in ends:
        after, _ = put_at(after, end, entries)
    return after


def checks_behind(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A check valve behind each of two sources, or behind one of them; vented behind a main."""
    build, names = analysis.build, place(analysis)
    sources = [one for one in finding.items if isinstance(names.role(one), (Tank, Mains))]
    mains = [one for one in sources if isinstance(names.role(one), Mains)]
    vented = _checks(build, vented=True) if mains else []
    entries = vented or _checks(build, vented=False)
    word = "vented double check valve" if vented else "check valve"
    cautions = (
        "The local code says which device keeps a main apart; a check valve alone may not do.",
        PLUMBER,
    )
    for some in (sources, sources[:1], sources[1:]):
        ends = [end for one in some for end in ends_of(build, one, "out")]
        if not ends:
            continue
        yield Candidate(
            "add check valve",
            Phrase.of(
                f"Put a {word} behind {{sources}}",
                sources=" and behind ".join(names.name(one) for one in some),
            ),
            3,
            partial(_checked, build, ends, entries),
            tuple(some),
            cautions if mains else (),
        )
    yield from _apart(analysis, finding, sources)


def _apart(analysis: Analysis, finding: Finding, sources: Sequence[str]) -> Iterator[Candidate]:
    """Feed the line by one of them only."""
    build, names = analysis.build, place(analysis)
    for source in sources:
        runs = [one for one in finding.runs if _ends_at(build, one, source)]
        if runs:
            yield Candidate(
                "one source",
                Phrase.of(
                    "Take the tube off {source}, and feed the line by one source",
                    source=names.name(source),
                ),
                1,
                partial(remove, build, run_ids=runs),
                (source,),
                told=_one_source,
            )


def _one_source(_: Analysis) -> Phrase:
    return Phrase("Only one of them feeds the line")


def _ends_at(build: Build, run_id: str, item_id: str) -> bool:
    run = build.run(run_id)
    return isinstance(run, TubeRun) and item_id in {
        end.item for end in (run.a, run.b) if end is not None
    }


_SCREEN = "Put a screen of 100 mesh before it, and let its vent drip where it is seen."


def vented_check(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A vented double check before what carbonates: in the place of a plain one, or put in."""
    build, names = analysis.build, place(analysis)
    item_id = finding.items[0]
    cautions = (_SCREEN, PLUMBER)
    entries = _checks(build, vented=True)
    for check in finding.items[1:]:
        role = names.role(check)
        if isinstance(role, CheckValve) and not role.vented:
            for entry in entries:
                yield Candidate(
                    "vented check valve",
                    Phrase.of(
                        "Take a vented double check valve in the place of {check}",
                        check=names.name(check),
                    ),
                    3,
                    partial(exchanged, build, check, entry),
                    (check, item_id),
                    cautions,
                )
    ends = ends_of(build, item_id, "in")
    if ends:
        yield Candidate(
            "vented check valve",
            Phrase.of(
                "Put a vented double check valve right before {item}", item=names.name(item_id)
            ),
            3,
            partial(_checked, build, ends, entries),
            (item_id,),
            cautions,
        )
