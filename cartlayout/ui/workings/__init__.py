"""How numbers came about: a panel that opens from any number and follows the build."""

from .coordinator import Workings

__all__ = ["Workings"]
