"""The three boards that are always in sight: circuits, taps, findings."""
