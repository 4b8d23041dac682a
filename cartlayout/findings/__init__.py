"""Rules that read the results and speak: what, where, number against limit, source."""

from .find import Said, find, find_again, in_order
from .finding import SEVERITIES, Finding, Severity
from .number import Number

__all__ = ["SEVERITIES", "Finding", "Number", "Said", "Severity", "find", "find_again", "in_order"]
