"""What every row of a table carries: where its numbers come from, and how sure that is."""

from typing import Literal

import msgspec

Status = Literal["found", "derived", "common practice", "from memory"]
"""found: read in the source named. derived: arithmetic on values that were read.
common practice: a fact of the trade that no standard states. from memory: the source is named
but was not open when the row was written; check before relying on it."""

_SURENESS: tuple[Status, ...] = ("found", "derived", "common practice", "from memory")


class LimitsError(ValueError):
    """A table that cannot be used, or a name that no table holds; the message says where."""


class Row(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A part of a table that needs no source of its own."""


class Sourced(Row, frozen=True):
    """A row of a table."""

    source: str
    """Standard or handbook, and the place in it."""
    edition: str
    """Year or edition; empty where the source has none."""
    status: Status

    def __post_init__(self) -> None:
        if not self.source.strip():
            raise ValueError("a row needs its source")

    @property
    def citation(self) -> str:
        """Source, edition and, unless it was read, how sure it is."""
        text = f"{self.source}, {self.edition}" if self.edition else self.source
        told = self.status == "found" or self.status in text.lower()
        return text if told else f"{text} ({self.status})"


def weakest(*statuses: Status) -> Status:
    """The least sure of several rows that went into one number."""
    return max(statuses, key=_SURENESS.index)
