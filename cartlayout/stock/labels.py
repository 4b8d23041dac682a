"""What new equipment is called."""

from ..build import Build


def short_label(build: Build, name: str) -> str:
    """What to call a new item: its name up to the first comma, numbered where that is taken.

    "Espresso machine, 1 group, 120 V" is right in a list to choose from, and
    too long on the plan and in sentences.
    """
    short = name.split(",")[0].strip()
    taken = {item.name for item in build.items}
    number, label = 2, short
    while label in taken:
        label = f"{short} {number}"
        number += 1
    return label
