"""Tables as strips: heads that are set again on every page, rows, totals, verdicts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...units import UnitSystem
from ..lettering import Face
from ..plan.picture import Box
from ..sheet.elements import BoxItem, Element, LineItem, MarkItem, TextItem
from ..theme import LIGHT
from .blocks import titled
from .cells import has_verdicts, head, shown, words
from .columns import Wish, groups, widths
from .content import Cell, Table
from .lines import broken, widest_word
from .setting import SETTINGS, Setting
from .strips import Strip

VERDICT = "Verdict"
_GAP = 3.6
"""Between columns."""
_MARK = 2.6
_MARK_ROOM = 3.6
_BOX, _BOX_ROOM = 2.6, 5.0
_WRITING_ROW = 6.6
"""Height of a row that is written in by hand (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class _Laid:
    """A table, or some of its columns, with its type and the places of its columns."""

    table: Table
    columns: tuple[int, ...]
    lefts: tuple[float, ...]
    widths: tuple[float, ...]
    setting: Setting
    system: UnitSystem
    verdict_at: float | None
    """Left edge of the column of marks."""
    width: float

    @property
    def is_written_in(self) -> bool:
        return any(self.table.columns[place].blank_mm for place in self.columns)

    def face(self, weight: int = 400) -> Face:
        return Face(self.setting.small, weight)


def table_strips(
    table: Table, setting: Setting, width: float, system: UnitSystem
) -> tuple[Strip, ...]:
    """A table for a width: type is set smaller, then columns in several sets, before words break.

    Nothing is left out: where there are no rows, the table says so.
    """
    title = titled(table.title, setting, width)
    note = _note(table, setting, width, system)
    if not (table.rows or table.totals) or not table.columns:
        return (*title, *_empty(table, setting, width), *note)
    strips: list[Strip] = []
    laid_out = _lay_out(table, setting, width, system)
    for place, laid in enumerate(laid_out):
        above = title if place == 0 else titled(table.title, setting, width, continued=True)
        strips += _strips(laid, above)
    return (*strips, *note)


def _empty(table: Table, setting: Setting, width: float) -> tuple[Strip, ...]:
    face = Face(setting.body)
    lines = broken(table.empty or "Nothing to list.", face, width)
    elements = tuple(
        TextItem(0.0, face.cap + at * face.line, line, face.size, 400, "ink_muted")
        for at, line in enumerate(lines)
    )
    return (Strip(face.line * len(lines), elements, setting.gap(1.6)),)


def _note(table: Table, setting: Setting, width: float, system: UnitSystem) -> tuple[Strip, ...]:
    face = Face(setting.small)
    lines = broken(words(table.note, system), face, min(width, 190.0))
    return tuple(
        Strip(
            face.line,
            (TextItem(0.0, face.cap, line, face.size, 400, "ink_muted"),),
            setting.gap(1.6) if at == 0 else 0.0,
        )
        for at, line in enumerate(lines)
    )


# --- where the columns stand ------------------------------------------------------------------


def _lay_out(table: Table, setting: Setting, width: float, system: UnitSystem) -> list[_Laid]:
    smaller = [one for one in SETTINGS if one.share <= setting.share] or [setting]
    for one in smaller:
        found = _in_one(table, tuple(range(len(table.columns))), one, width, system)
        if found is not None:
            return [found]
    least = smaller[-1]
    wishes = [_wish(table, place, least, system) for place in range(len(table.columns))]
    room = width - _verdict_width(table, least) - _boxes_width(table)
    made = []
    for group in groups(wishes, room, _GAP):
        found = _in_one(table, tuple(group), least, width, system)
        made.append(found or _cut(table, tuple(group), least, width, system))
    return made


def _verdict_width(table: Table, setting: Setting) -> float:
    if not has_verdicts(table.marks):
        return 0.0
    texts = [VERDICT, *(LIGHT.mark(mark).word for mark in table.marks if mark)]
    return _GAP + _MARK_ROOM + max(Face(setting.small, 600).width(text) for text in texts)


def _boxes_width(table: Table) -> float:
    return _BOX_ROOM if table.has_boxes else 0.0


def _texts(table: Table, place: int, system: UnitSystem) -> list[str]:
    column = table.columns[place]
    rows = [row[place] for row in table.rows if place < len(row)]
    total = [table.totals[place]] if place < len(table.totals) else []
    return [shown(cell, column, system) for cell in [*rows, *total]]


def _wish(table: Table, place: int, setting: Setting, system: UnitSystem) -> Wish:
    face, strong = Face(setting.small), Face(setting.small, 600)
    texts = _texts(table, place, system)
    column = table.columns[place]
    title = head(column, system)
    words_mm = [widest_word(title, strong), *(widest_word(text, strong) for text in texts)]
    least = max(column.blank_mm, *words_mm)
    natural = max(
        [
            least,
            # A head may break where the numbers under it are short.
            min(strong.width(title), 24.0),
            *(face.width(text) for text in texts),
        ]
    )
    return Wish(least + 0.01, natural + 0.01, max(column.share, 0.05))


def _in_one(
    table: Table, columns: tuple[int, ...], setting: Setting, width: float, system: UnitSystem
) -> _Laid | None:
    """The columns side by side; None where their words have no room."""
    room = width - _verdict_width(table, setting) - _boxes_width(table)
    room -= _GAP * (len(columns) - 1)
    wishes = [_wish(table, place, setting, system) for place in columns]
    found = widths(wishes, room)
    return _placed(table, columns, found, setting, system) if found is not None else None


def _cut(
    table: Table, columns: tuple[int, ...], setting: Setting, width: float, system: UnitSystem
) -> _Laid:
    """Columns of which a single word is wider than the page: it has to be cut."""
    room = width - _verdict_width(table, setting) - _boxes_width(table)
    room -= _GAP * (len(columns) - 1)
    each = max(room / len(columns), 1.0)
    wishes = [_wish(table, place, setting, system) for place in columns]
    small = [Wish(min(one.least, each), one.natural, one.share) for one in wishes]
    found = widths(small, room) or (each,) * len(columns)
    return _placed(table, columns, found, setting, system)


def _placed(
    table: Table,
    columns: tuple[int, ...],
    found: tuple[float, ...],
    setting: Setting,
    system: UnitSystem,
) -> _Laid:
    lefts, x = [], _boxes_width(table)
    for one in found:
        lefts.append(x)
        x += one + _GAP
    end = x - _GAP
    verdict = _verdict_width(table, setting)
    verdict_at = end + _GAP if verdict else None
    return _Laid(table, columns, tuple(lefts), found, setting, system, verdict_at, end + verdict)


# --- rows -------------------------------------------------------------------------------------


def _strips(laid: _Laid, above: tuple[Strip, ...]) -> list[Strip]:
    table = laid.table
    heads = _heads(laid)
    later = (*titled(table.title, laid.setting, laid.width, continued=True), heads)
    strips = [*above, heads]
    last = len(table.rows) - 1
    for place, row in enumerate(table.rows):
        mark = table.marks[place] if place < len(table.marks) else ""
        strip = replace(_row(laid, row, mark, is_sum=place in table.sums), repeated=later)
        # The last row stays with the totals under it.
        strips.append(replace(strip, holds_next=place == last and bool(table.totals)))
    if table.totals:
        strips.append(replace(_row(laid, table.totals, "", totals=True), repeated=later))
    return strips


def _heads(laid: _Laid) -> Strip:
    face = laid.face(600)
    all_lines = [
        broken(head(laid.table.columns[place], laid.system), face, wide)
        for place, wide in zip(laid.columns, laid.widths, strict=True)
    ]
    most = max(len(lines) for lines in all_lines)
    elements: list[Element] = []
    for column, lines in enumerate(all_lines):
        # Heads stand on the line, as the eye goes down from them.
        top = face.cap + (most - len(lines)) * face.line
        elements += _lines(laid, column, lines, top, 600, "ink_muted")
    bottom = face.cap + (most - 1) * face.line
    if laid.verdict_at is not None:
        elements.append(TextItem(laid.verdict_at, bottom, VERDICT, face.size, 600, "ink_muted"))
    height = bottom + 0.3 * face.size + laid.setting.gap(0.9)
    elements.append(LineItem(0.0, height, laid.width, height, 0.7, "line_strong"))
    return Strip(height, tuple(elements), laid.setting.gap(1.4), holds_next=True)


def _row(
    laid: _Laid, row: Sequence[Cell], mark: str, totals: bool = False, is_sum: bool = False
) -> Strip:
    weight = 600 if totals or is_sum else 400
    face = laid.face(weight)
    top = laid.setting.gap(1.1) + face.cap
    if laid.is_written_in and not totals:
        top += _WRITING_ROW - 4.6
    elements: list[Element] = []
    if totals:
        elements.append(LineItem(0.0, 0.0, laid.width, 0.0, 0.7, "line_strong"))
    most = 1
    for column, (place, wide) in enumerate(zip(laid.columns, laid.widths, strict=True)):
        cell = row[place] if place < len(row) else None
        text = shown(cell, laid.table.columns[place], laid.system)
        lines = broken(text, face, wide)
        most = max(most, len(lines))
        elements += _lines(laid, column, lines, top, weight, "ink")
    if mark and laid.verdict_at is not None:
        elements += _verdict(laid, mark, top)
    if laid.table.has_boxes and not totals:
        box = Box(0.0, top - face.cap / 2 - _BOX / 2, _BOX, _BOX)
        elements.append(BoxItem(box, "", "ink_muted", 0.3, 0.7))
    height = top + (most - 1) * face.line + 0.3 * face.size + laid.setting.gap(0.7)
    if laid.is_written_in and not totals:
        height = max(height, _WRITING_ROW)
    if not totals:
        elements.append(LineItem(0.0, height, laid.width, height, 0.35))
    return Strip(height, tuple(elements))


def _verdict(laid: _Laid, mark: str, baseline: float) -> list[Element]:
    assert laid.verdict_at is not None
    face = laid.face(600)
    known = LIGHT.mark(mark)
    return [
        MarkItem(laid.verdict_at + _MARK / 2, baseline - face.cap / 2, _MARK, mark),
        TextItem(laid.verdict_at + _MARK_ROOM, baseline, known.word, face.size, 600, known.ink),
    ]


def _lines(
    laid: _Laid, column: int, lines: Sequence[str], top: float, weight: int, colour: str
) -> list[Element]:
    face = laid.face(weight)
    right = laid.table.columns[laid.columns[column]].align == "right"
    x = laid.lefts[column] + (laid.widths[column] if right else 0.0)
    return [
        TextItem(x, top + at * face.line, line, face.size, weight, colour, 1.0 if right else 0.0)
        for at, line in enumerate(lines)
    ]
