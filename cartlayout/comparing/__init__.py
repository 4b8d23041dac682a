"""Two analyses held against each other: what moved, what changed, how each verdict changed."""
