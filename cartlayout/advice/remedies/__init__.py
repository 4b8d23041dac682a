"""Changes that were tried on a copy, analysed anew and found to help."""
