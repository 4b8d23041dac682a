"""Trying a piece of equipment in another's place, on a copy."""

from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Build, Item
from ...build.edits import EditError
from ...network import Replacement, replace_with
from ...stock import StockEntry
from ..session import Session
from .comparison import Comparison, compare


@dataclass(frozen=True, slots=True)
class Trial:
    """What would come of taking one entry; a reason instead where it cannot be."""

    entry: StockEntry
    replacement: Replacement | None = None
    reason: str = ""


def trial(build: Build, item_id: str, entry: StockEntry) -> Trial:
    """Put an entry in an item's place."""
    try:
        return Trial(entry, replace_with(build, item_id, entry))
    except EditError as error:
        return Trial(entry, reason=str(error))


def judged(session: Session, found: Trial) -> Comparison | None:
    """Analyse a trial beside what is committed; None where there is none."""
    if found.replacement is None:
        return None
    after: Analysis = session.try_out(found.replacement.build)
    return compare(session.settled, after, session.system)


def verdict(replacement: Replacement, outcome: Comparison) -> tuple[str, str]:
    """A mark and two or three words: the worst that comes, and what is lost of the connections."""
    gone = len(replacement.of("dropped"))
    lost = f"{gone} connection{'' if gone == 1 else 's'} less" if gone else ""
    worst = outcome.worst or ("care" if gone else "ok")
    if not lost:
        return worst, outcome.short
    same = outcome.short == "as good"
    return worst, lost if same else f"{outcome.short}, {lost}"


def accept(session: Session, item: Item, found: Trial) -> bool:
    """Make the exchange: one undo step. False: it cannot be done, and the status bar says why."""
    if found.replacement is None:
        session.tell(found.reason)
        return False
    new = found.replacement.build.item(item.id)
    name = found.entry.name.split(",")[0] if new is None else new.specification.name.split(",")[0]
    session.apply(f"Replace {item.name} with {name}", found.replacement.build)
    session.tell(outcome(found.replacement))
    return True


def outcome(replacement: Replacement) -> str:
    """What became of the wires and tubes, in one sentence."""
    counts = {what: len(replacement.of(what)) for what in ("kept", "changed", "moved", "dropped")}
    words = {
        "kept": "stay",
        "changed": "have another tube",
        "moved": "are plugged in elsewhere",
        "dropped": "are gone",
    }
    told = [f"{count} {words[what]}" for what, count in counts.items() if count]
    joined = f"Wires and tubes: {', '.join(told)}." if told else "Nothing was joined to it."
    return " ".join((joined, *replacement.remarks))
