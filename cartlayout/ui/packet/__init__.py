"""The packet: which sheets, how, and where to; then written away from the window."""
