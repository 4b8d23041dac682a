"""Rules that read the results and speak: what, where, number against limit, source."""

from .find import Said, find, find_again, in_order
from .finding import SEVERITIES, Finding, Severity

__all__ = ["SEVERITIES", "Finding", "Said", "Severity", "find", "find_again", "in_order"]
