"""One field by which everything the program can do is found: typed words, a list, Enter."""

from .box import CommandBox

__all__ = ["CommandBox"]
