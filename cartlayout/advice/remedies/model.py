"""What a remedy is made of."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Build
from ...findings import Finding
from ...units import Phrase, Value

Key = tuple[str, tuple[str, ...], tuple[str, ...], str]
"""What a finding is about: code, items, runs, and which circuit, door, inlet or leaf where its
title names one. Its numbers and severity may change."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A change that may help, not yet tried."""

    kind: str
    """"move load", "tube size", "add regulator" ...: for tests, order and pictures."""
    title: Phrase
    """What is done, as an order: "Plug {item} into {outlet}"."""
    effort: int
    """0 a setting or a plug moved by hand; 1 something turned, raised or put elsewhere; 2 a tube
    or cord changed; 3 a small part added; 4 equipment exchanged or added; 5 somebody else has
    to act (the venue, an electrician, a plumber)."""
    make: Callable[[], Build]
    """Builds the copy. Raises `EditError` where it cannot be done."""
    items: tuple[str, ...] = ()
    """Ids of what is touched, the most touched first, for pointing at it on the plan."""
    cautions: tuple[str, ...] = ()
    """Who has to do or check it: "A licensed electrician adds this outlet"."""
    told: Callable[[Analysis], Phrase] | None = None
    """What comes of it, read from the copy, where the finding has no number of its own:
    "On circuit B, 14.2 of 20.0 A"."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """A candidate that was applied to a copy, analysed anew, and takes a finding away."""

    finding: Key
    kind: str
    title: Phrase
    outcome: Phrase
    """The number that comes of it beside the one there is: "2.2 bar instead of 1.1 bar"."""
    effort: int
    build: Build
    """The copy, to be taken over whole as one edit."""
    analysis: Analysis
    """Of the copy: what is claimed can be read from it."""
    value: Value | None = None
    """The finding's number as it is in the copy, where it still has one."""
    before: Value | None = None
    """The same as it is now."""
    partly: bool = False
    """It makes a stop a care and no more; only offered where nothing takes it away."""
    gone: tuple[Finding, ...] = ()
    """Every finding that goes with it."""
    come: tuple[Finding, ...] = ()
    """Every finding that comes with it, none of them a stop."""
    items: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tried:
    """Told between two candidates: a thread can stop there, and a window say how far it is."""

    done: int
    """Candidates tried so far."""
    whole: int
    """Candidates there are, as far as is known now; never fewer than `done`."""


Probe = Callable[[Analysis], Value | None]
"""Reads one number from any analysis of the same cart; None where it has gone with its item."""

Reader = Callable[[Analysis, Finding], Probe | None]
"""Finds out which number of an analysis a finding is about, so that it can be read from another
one even where nothing is said of it any more."""

Source = Callable[[Analysis, Finding], Iterator[Candidate]]
"""Yields candidates for a finding, the most promising first; knows the codes it is made for."""
