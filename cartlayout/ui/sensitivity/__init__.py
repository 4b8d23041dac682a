"""What should be checked first: figures that nobody has checked and that would turn a verdict."""

from .panel import SensitivityPanel, open_sensitivity

__all__ = ["SensitivityPanel", "open_sensitivity"]
