"""Sample builds for the tests of the window."""

from cartlayout.build import Build
from cartlayout.build.file import load
from cartlayout.data import sample_builds


def sample(name: str = "market_cart") -> Build:
    """A sample build."""
    return load(sample_builds() / f"{name}.cart")
