"""Rules that read the results and speak: what, where, number against limit, source."""
