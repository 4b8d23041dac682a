"""Setting the cart up and shutting it down: steps in order, what to expect, what holds water."""
