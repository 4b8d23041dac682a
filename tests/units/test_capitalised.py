"""A capital at the beginning of a sentence: English orthography, and Unicode's for its letters."""

import pytest

from cartlayout.units import capitalised


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("", ""),
        ("a", "A"),
        ("rated 15 A at 120 V", "Rated 15 A at 120 V"),  # symbols of units keep theirs (SI)
        ("GFCI", "GFCI"),
        ("12 AWG", "12 AWG"),
        ("élan", "Élan"),
    ],
)
def test_only_the_first_letter_changes(text, shown):
    assert capitalised(text) == shown
