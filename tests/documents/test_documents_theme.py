"""Contrast of every pair of colours that is read, by the formula of WCAG 2.2."""

import itertools

import pytest

from cartlayout.documents.theme import DARK, LIGHT, Theme


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_measure_itself() -> None:
    # WCAG 2.2, definition of contrast ratio: black on white is 21:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    # Widely published example: #767676 on white is the lightest grey that passes 4.5:1.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def grounds(theme: Theme) -> list[str]:
    return [
        theme.paper,
        theme.venue,
        theme.cart,
        theme.body,
        theme.panel,
        theme.panel_raised,
        theme.field,
        theme.bar,
    ]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_all_text_has_contrast(theme: Theme) -> None:
    inks = [theme.ink, theme.ink_muted, theme.link, theme.water_ink, theme.drain_ink]
    inks += [accent.ink for accent in theme.circuits]
    inks += [mark.ink for mark in (theme.ok, theme.care, theme.stop, theme.note)]
    pairs = list(itertools.product(inks, grounds(theme)))
    pairs += [(accent.on_fill, accent.fill) for accent in theme.circuits]
    for mark in (theme.ok, theme.care, theme.stop, theme.note):
        pairs += [
            (mark.on_fill, mark.fill),
            (mark.ink, mark.tint),
            (theme.ink, mark.tint),
            (theme.ink_muted, mark.tint),
        ]
    pairs += [
        (theme.on_primary, theme.primary),
        (theme.ink, theme.selection_tint),
        (theme.ink_muted, theme.selection_tint),
        (theme.ink, theme.track),
        (theme.ink_muted, theme.track),
        (theme.ink, theme.water_fill),
    ]
    weak = [
        (ink, ground, round(contrast(ink, ground), 2))
        for ink, ground in pairs
        if contrast(ink, ground) < 4.5
    ]
    assert weak == []


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_what_is_seen_but_not_read_has_contrast(theme: Theme) -> None:
    # WCAG 2.2, success criterion 1.4.11: 3:1 for parts of the interface.
    for edge in (theme.line_strong, theme.body_edge, theme.selection):
        for ground in (theme.panel, theme.field, theme.paper, theme.cart):
            assert contrast(edge, ground) >= 3.0, (edge, ground)
    assert contrast(theme.ghost_ink, theme.cart) >= 4.5


def test_accents_are_the_published_palette() -> None:
    # Okabe and Ito, Color Universal Design, 2008: the seven hues beside black.
    published = {"#0072b2", "#d55e00", "#cc79a7", "#e69f00", "#009e73", "#f0e442", "#56b4e9"}
    assert {accent.fill for accent in LIGHT.circuits} >= published
    dashes = [accent.dash for accent in LIGHT.circuits]
    assert len(set(dashes)) == len(dashes)
    assert LIGHT.circuit("A") is LIGHT.circuits[0]
    assert LIGHT.circuit("C") is LIGHT.circuits[2]
    assert LIGHT.circuit("AA") is LIGHT.circuits[26 % len(LIGHT.circuits)]


def test_verdicts_differ_by_shape_and_word() -> None:
    for theme in (LIGHT, DARK):
        marks = [theme.ok, theme.care, theme.stop, theme.note]
        assert len({mark.shape for mark in marks}) == 4
        assert len({mark.word for mark in marks}) == 4
