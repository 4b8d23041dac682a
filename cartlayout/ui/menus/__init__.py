"""The entries of the menus, one module a subject; each has `ENTRIES`, a tuple of `Entry`."""
