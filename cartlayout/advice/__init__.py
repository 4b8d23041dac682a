"""What would help: changes tried on copies of a build, solved anew, and judged.

A trial costs an analysis or a good part of one, so nothing here is worked out until somebody asks.
"""
