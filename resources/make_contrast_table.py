"""Measure the contrast of the theme's colours and write the table into DEVELOPERS.md.

The ratio is that of WCAG 2.2. Run it after a change of colours:
python resources/make_contrast_table.py
"""

import re
from pathlib import Path

from cartlayout.documents.theme import DARK, LIGHT, Theme

DOCUMENT = Path(__file__).resolve().parent.parent / "DEVELOPERS.md"
START, END = "<!-- contrast: start -->", "<!-- contrast: end -->"
_LIMITS = {"text": 4.5, "line": 3.0}


def luminance(colour: str) -> float:
    """Relative luminance by WCAG 2.2."""
    shares = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (
        one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in shares
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio by WCAG 2.2, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def rows(theme: Theme) -> list[tuple[str, str, str, float, str]]:
    """What is drawn, as text or as line, its colour, its least ratio, and on which ground."""
    grounds = {
        name: getattr(theme, name)
        for name in ("paper", "venue", "cart", "body", "panel", "panel_raised", "field", "bar")
    }
    plan = {name: grounds[name] for name in ("paper", "venue", "cart", "body")}
    made = []

    def add(what: str, kind: str, colour: str, on: dict[str, str]) -> None:
        ground = min(on, key=lambda name: contrast(colour, on[name]))
        made.append((what, kind, colour, contrast(colour, on[ground]), ground))

    for name in ("ink", "ink_muted", "ghost_ink", "link", "water_ink", "drain_ink"):
        add(name, "text", getattr(theme, name), grounds)
    for number, accent in enumerate(theme.circuits):
        letter = chr(ord("A") + number)
        add(f"circuit {letter}, text", "text", accent.ink, grounds)
        add(f"circuit {letter}, on its bar", "text", accent.on_fill, {"fill": accent.fill})
        add(f"circuit {letter}, line", "line", accent.line, plan)
    for mark in (theme.ok, theme.care, theme.stop, theme.note):
        add(f"{mark.word}, text", "text", mark.ink, {**grounds, "tint": mark.tint})
        add(f"{mark.word}, sign in its mark", "text", mark.on_fill, {"fill": mark.fill})
    for name in ("water", "drain"):
        add(f"{name}, line", "line", getattr(theme, name), plan)
    for name in ("body_edge", "selection", "line_strong"):
        add(f"{name}, edge", "line", getattr(theme, name), {**plan, "field": theme.field})
    return made


def table() -> str:
    """The whole table in Markdown."""
    lines = [
        "| what | least asked | light | on | ratio | dark | on | ratio |",
        "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for one, other in zip(rows(LIGHT), rows(DARK), strict=True):
        what, kind, colour, ratio, ground = one
        lines.append(
            f"| {what} | {_LIMITS[kind]:g} | {colour} | {ground} | {ratio:.1f} "
            f"| {other[2]} | {other[4]} | {other[3]:.1f} |"
        )
    return "\n".join(lines)


def main() -> None:
    """Put the table between its two comments."""
    text = DOCUMENT.read_text(encoding="utf-8")
    around = re.compile(f"{re.escape(START)}.*?{re.escape(END)}", re.DOTALL)
    DOCUMENT.write_text(around.sub(f"{START}\n{table()}\n{END}", text), encoding="utf-8")


if __name__ == "__main__":
    main()
