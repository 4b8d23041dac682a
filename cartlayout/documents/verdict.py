"""How a limit stands, as a mark: what does not hold takes the severity the findings give it."""

from collections.abc import Iterable, Iterator

from ..analysis import Analysis
from ..power.results import Limit


def limit_state(analysis: Analysis, limits: Iterable[Limit]) -> str:
    """The mark of power limits together: "ok" where all hold, else "stop" or "care".

    A limit that does not hold and that no finding speaks of, because another says it already,
    is worth care.
    """
    failing = [one for one in limits if not one.holds]
    if not failing:
        return "ok"
    said = {severity for limit in failing for severity in _said(analysis, limit)}
    return "stop" if "stop" in said else "care"


def _said(analysis: Analysis, limit: Limit) -> Iterator[str]:
    for finding in analysis.findings:
        if (
            finding.value is not None
            and finding.limit is not None
            and finding.code.startswith("power.")
            and finding.value.si == limit.value
            and finding.limit.si == limit.limit
        ):
            yield finding.severity
