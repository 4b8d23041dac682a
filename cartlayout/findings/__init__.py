"""Rules that read the results and speak: what, where, number against limit, source."""

from .find import find
from .finding import SEVERITIES, Finding, Severity

__all__ = ["SEVERITIES", "Finding", "Severity", "find"]
