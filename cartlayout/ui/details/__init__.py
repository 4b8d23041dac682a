"""The details at the right: what was computed for the selection, and every property to edit."""
