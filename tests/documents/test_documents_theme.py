"""Contrast of every pair of colours that is read, by the formula of WCAG 2.2."""

import itertools
import re
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QPalette

from cartlayout.documents.plan.ink import blend
from cartlayout.documents.plan.shapes import SYMBOL_INK
from cartlayout.documents.theme import DARK, LIGHT, Theme
from cartlayout.ui.style import palette, style_sheet


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
def test_text_on_what_is_mixed_has_contrast(theme: Theme) -> None:
    """Names of zones, words on tinted grounds, what is disabled, text on a selection."""
    pairs = [(theme.ghost_ink, ground) for ground in grounds(theme)]  # disabled, other levels
    pairs += [(theme.ink_muted, theme.field), (theme.ink, theme.panel_raised)]  # placeholder, tips
    for zone in (
        blend(theme.ok.fill, theme.cart, 0.14),
        blend(theme.ink_muted, theme.cart, 0.07),
        theme.paper,
    ):
        pairs += [(theme.ink, zone), (theme.ink_muted, zone)]
    colours = palette(theme)
    active = QPalette.ColorGroup.Active
    for ink, ground in (
        (QPalette.ColorRole.HighlightedText, QPalette.ColorRole.Highlight),
        (QPalette.ColorRole.ToolTipText, QPalette.ColorRole.ToolTipBase),
        (QPalette.ColorRole.PlaceholderText, QPalette.ColorRole.Base),
        (QPalette.ColorRole.ButtonText, QPalette.ColorRole.Button),
        (QPalette.ColorRole.Link, QPalette.ColorRole.Window),
    ):
        pairs.append((colours.color(active, ink).name(), colours.color(active, ground).name()))
    weak = [
        (ink, ground, round(contrast(ink, ground), 2))
        for ink, ground in pairs
        if contrast(ink, ground) < 4.5
    ]
    assert weak == []


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_the_style_sheet_writes_only_what_can_be_read(theme: Theme) -> None:
    """Every rule that names a text colour and a ground keeps 4.5:1; the edges of inputs 3:1."""
    sheet = style_sheet(theme)
    read = 0
    for rule in re.findall(r"\{([^}]*)\}", sheet):
        ground = re.search(r"(?<!-)background: (#[0-9a-f]{6})", rule)
        ink = re.search(r"(?<![-\w])color: (#[0-9a-f]{6})", rule)
        if ground and ink:
            read += 1
            assert contrast(ink[1], ground[1]) >= 4.5, rule
    assert read >= 6
    assert contrast(theme.line_strong, theme.field) >= 3.0


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_what_is_seen_but_not_read_has_contrast(theme: Theme) -> None:
    # WCAG 2.2, success criterion 1.4.11: 3:1 for parts of the interface and of graphics.
    drawn = [theme.paper, theme.venue, theme.cart, theme.body]
    for edge in (theme.line_strong, theme.body_edge, theme.selection, theme.ghost):
        for ground in (theme.panel, theme.field, theme.paper, theme.cart):
            assert contrast(edge, ground) >= 3.0, (edge, ground)
    lines = [*(accent.line for accent in theme.circuits), theme.water, theme.drain]
    for line in lines:
        for ground in drawn:
            assert contrast(line, ground) >= 3.0, (line, ground)
    for body, ground in ((theme.ink, theme.body), (theme.ink, theme.panel)):
        silhouette = blend(body, ground, SYMBOL_INK)
        assert contrast(silhouette, ground) >= 3.0, (silhouette, ground)


def test_lines_keep_the_hue_of_the_published_colour() -> None:
    for theme in (LIGHT, DARK):
        for accent in theme.circuits:
            one, other = QColor(accent.fill).hueF(), QColor(accent.line).hueF()
            apart = abs(one - other)
            assert min(apart, 1 - apart) < 0.03, accent


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


def test_the_table_in_the_developers_notes_is_as_measured() -> None:
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.partition("<!-- contrast: start -->")[2].partition("<!-- contrast: end -->")[0]
    rows = [[cell.strip() for cell in row.split("|")[1:-1]] for row in table.split("\n")[3:-1]]
    assert len(rows) > 30
    for what, least, *sides in rows:
        for theme, (colour, ground, ratio) in ((LIGHT, sides[:3]), (DARK, sides[3:])):
            assert float(ratio) >= float(least), what
            if hasattr(theme, ground):
                worst = contrast(colour, getattr(theme, ground))
                assert worst == pytest.approx(float(ratio), abs=0.06), (what, theme.name)
    inks = {
        theme.name: {row[2 if theme is LIGHT else 5] for row in rows} for theme in (LIGHT, DARK)
    }
    for theme in (LIGHT, DARK):
        assert {accent.line for accent in theme.circuits} <= inks[theme.name]
        assert {theme.ink, theme.ink_muted, theme.water, theme.drain} <= inks[theme.name]
