"""The page that is seen first: a new cart, samples, recent files."""

from .page import StartPage

__all__ = ["StartPage"]
