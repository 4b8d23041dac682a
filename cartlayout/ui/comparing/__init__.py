"""The build held against another state of it, or another file, on the plan and in lists."""

from .panel import ComparePanel, open_compare
from .states import State, earlier, of_file

__all__ = ["ComparePanel", "State", "earlier", "of_file", "open_compare"]
