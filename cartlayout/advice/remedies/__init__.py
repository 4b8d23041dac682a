"""Changes that were tried on a copy, analysed anew and found to help."""

from .changes import Changes, changes, key_of
from .find import all_remedies, best_first, by_finding, remedies
from .mend import Mended, Remaining, mend, mended
from .model import Candidate, Key, Probe, Reader, Remedy, Source, Tried
from .sources import why_none

__all__ = [
    "Candidate",
    "Changes",
    "Key",
    "Mended",
    "Probe",
    "Reader",
    "Remaining",
    "Remedy",
    "Source",
    "Tried",
    "all_remedies",
    "best_first",
    "by_finding",
    "changes",
    "key_of",
    "mend",
    "mended",
    "remedies",
    "why_none",
]
