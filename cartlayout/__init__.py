"""Layout of mobile beverage carts: what fits, what holds, what flows."""

__version__ = "0.1.0"
