"""What to say about the cart's body."""

from collections.abc import Iterator

from ..body.results import BodyResult
from ..build import Build
from . import body_clashes, body_use, body_way, body_weight
from .finding import Finding


def rules(build: Build, body: BodyResult) -> Iterator[Finding]:
    """Bodies in each other's way, weight and balance, the way in, and work at the cart."""
    yield from body_clashes.rules(build, body)
    yield from body_weight.rules(build, body)
    yield from body_way.rules(build, body)
    yield from body_use.rules(build, body)
