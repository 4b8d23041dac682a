"""A guided first cart: watches what is done, and says what comes next."""

from .guide import Guide

__all__ = ["Guide"]
