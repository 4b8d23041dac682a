"""Sheets and pictures of a build, painted without a window."""
