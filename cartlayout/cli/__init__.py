"""The command line: one module a command; without one the window opens.

Nothing of a command is imported before it is asked for.
"""

import sys
from importlib import import_module

COMMANDS = {
    "check": "print circuits, taps and findings",
    "compare": "print what differs between two builds",
    "export": "write the annotated plan",
    "mend": "clear the stops that can be cleared, and write the build",
    "packet": "write the sheets for builder, venue, inspector and operator",
}
"""Name of each command, which is that of its module, and what it does in a few words."""


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; returns the exit code."""
    words = sys.argv[1:] if arguments is None else arguments
    if words and words[0] in COMMANDS:
        run = import_module(f".{words[0]}", __name__).run
        return int(run(words[1:]))
    from .window import run as open_window

    return open_window(words, COMMANDS)
