"""Steady hydraulics of the supply side: pressure and flow at every tap, case by case."""
