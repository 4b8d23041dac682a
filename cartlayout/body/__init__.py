"""Bodies in their places: overlap, overhang, mass, balance."""
