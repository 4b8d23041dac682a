"""Editors for whole structs, made from their fields: groups, choosers of sorts, lists."""

from collections.abc import Callable
from typing import TypeVar

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from ...units import Quantity
from .. import widgets
from .fields import (
    BoolField,
    ChoiceField,
    Editor,
    LongTextField,
    NumberField,
    QuantityField,
    TextField,
)
from .kinds import (
    BoolKind,
    ChoiceKind,
    FieldInfo,
    Kind,
    ListKind,
    NumberKind,
    OptionalKind,
    QuantityKind,
    StructKind,
    TextKind,
    UnionKind,
    fields_of,
    label_of,
    new_struct,
    new_value,
    tag_of,
)

Special = Callable[[type[msgspec.Struct], FieldInfo, object], Editor | None]
"""Offers an editor of its own for a field, or None for the ordinary one."""

T = TypeVar("T")
LABEL_WIDTH = 104
INNER_LABEL_WIDTH = 74
"""Of parts inside parts, so that their fields keep room."""


def no_special(owner: type[msgspec.Struct], info: FieldInfo, value: object) -> Editor | None:
    """Ordinary editors only."""
    return None


def make_editor(
    kind: Kind, value: object, owner: type[msgspec.Struct], name: str, special: Special
) -> Editor:
    """The editor for a value of a kind.

    Raises:
        TypeError: there is none.
    """
    if isinstance(kind, OptionalKind):
        return _optional(kind, value, owner, name, special)
    if isinstance(kind, QuantityKind):
        return QuantityField(kind.of, _as(Quantity, value), owner.__name__, name)
    if isinstance(kind, TextKind):
        return LongTextField(str(value)) if kind.long else TextField(str(value))
    if isinstance(kind, NumberKind):
        return NumberField(kind, value if isinstance(value, (int, float)) else 0.0)
    if isinstance(kind, BoolKind):
        return BoolField(bool(value))
    if isinstance(kind, ChoiceKind):
        return ChoiceField(tuple((one, one) for one in kind.values), value)
    if isinstance(kind, StructKind):
        part = _as(msgspec.Struct, value) or new_struct(kind.of)
        return StructEditor(part, special, label_width=INNER_LABEL_WIDTH)
    if isinstance(kind, UnionKind):
        return UnionEditor(kind, _as(msgspec.Struct, value) or new_struct(kind.of[0]), special)
    return ListEditor(kind, value if isinstance(value, tuple) else (), owner, name, special)


def _optional(
    kind: OptionalKind, value: object, owner: type[msgspec.Struct], name: str, special: Special
) -> Editor:
    inner = kind.inner
    if isinstance(inner, QuantityKind):
        return QuantityField(inner.of, _as(Quantity, value), owner.__name__, name, optional=True)
    if isinstance(inner, TextKind):
        return TextField(value if isinstance(value, str) else None, optional=True, hint="none")
    if isinstance(inner, BoolKind):
        return ChoiceField(((None, "not known"), (True, "yes"), (False, "no")), value)
    return OptionalEditor(kind, value, owner, name, special)


def _as(kind: type[T], value: object) -> T | None:
    return value if isinstance(value, kind) else None


class StructEditor(Editor):
    """One row a field."""

    inline = False
    indented = True

    def __init__(
        self,
        value: msgspec.Struct,
        special: Special = no_special,
        only: tuple[str, ...] | None = None,
        leave_out: tuple[str, ...] = (),
        label_width: int = LABEL_WIDTH,
    ) -> None:
        super().__init__()
        self._value = value
        self.editors: dict[str, Editor] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._label_width = label_width
        self._grid.setColumnMinimumWidth(0, label_width)
        self._grid.setColumnStretch(1, 1)
        infos = [
            info
            for info in fields_of(type(value))
            if info.name not in leave_out and (only is None or info.name in only)
        ]
        if only is not None:
            infos.sort(key=lambda info: only.index(info.name))
        for at, info in enumerate(infos):
            self._add(at, info, special)

    def _add(self, at: int, info: FieldInfo, special: Special) -> None:
        owner, now = type(self._value), getattr(self._value, info.name)
        editor = special(owner, info, now)
        if editor is None:
            editor = make_editor(info.kind, now, owner, info.name, special)
        editor.name_it(info.label, info.tip)
        editor.setProperty("field", info.name)
        editor.edited.connect(self._child_edited)
        self.editors[info.name] = editor
        label = widgets.wrapped(info.label, "muted" if editor.inline else "strong")
        label.setToolTip(info.tip)
        label.setBuddy(editor)
        if editor.inline:
            label.setFixedWidth(self._label_width)
            top = Qt.AlignmentFlag.AlignTop
            label.setContentsMargins(0, 4, 0, 0)
            self._grid.addWidget(label, at, 0, top)
            self._grid.addWidget(editor, at, 1, top)
        else:
            box = QWidget()
            column = QVBoxLayout(box)
            column.setContentsMargins(0, 6, 0, 2)
            column.setSpacing(4)
            column.addWidget(label)
            column.addWidget(_indented(editor) if editor.indented else editor)
            self._grid.addWidget(box, at, 0, 1, 2)

    def show_value(self, value: object) -> None:
        if value is self._value or not isinstance(value, msgspec.Struct):
            return
        self._value = value
        for name, editor in self.editors.items():
            editor.show_value(getattr(value, name))

    def _child_edited(self, value: object, words: object) -> None:
        editor = self.sender()
        name = next((name for name, one in self.editors.items() if one is editor), None)
        if name is None:
            return
        self._value = msgspec.structs.replace(self._value, **{name: value})
        self.edited.emit(self._value, words or label_of(name).lower())


def _indented(editor: QWidget) -> QWidget:
    """The editor behind a line at its left, to show what belongs together."""
    box = QWidget()
    row = QHBoxLayout(box)
    row.setContentsMargins(2, 0, 0, 0)
    row.setSpacing(8)
    line = widgets.rule()
    line.setFixedWidth(2)
    line.setMinimumHeight(4)
    line.setMaximumHeight(16777215)
    line.setProperty("rule", "upright")
    row.addWidget(line)
    row.addWidget(editor, 1)
    return box


class OptionalEditor(Editor):
    """A part that may be absent: a button adds it, another takes it away."""

    inline = False
    indented = True

    def __init__(
        self,
        kind: OptionalKind,
        value: object,
        owner: type[msgspec.Struct],
        name: str,
        special: Special,
    ) -> None:
        super().__init__()
        self._kind, self._owner, self._name, self._special = kind, owner, name, special
        self._value: object = value
        self._inner: Editor | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self.button = small_button("", "")
        self.button.clicked.connect(self._clicked)
        self._column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        self._build()

    def _build(self) -> None:
        if self._inner is not None:
            self._inner.hide()
            self._inner.deleteLater()
            self._inner = None
        what = label_of(self._name).lower()
        if self._value is None:
            self.button.setText(f"Add {what}")
        else:
            self.button.setText(f"Take {what} away")
            self._inner = make_editor(
                self._kind.inner, self._value, self._owner, self._name, self._special
            )
            self._inner.edited.connect(self._inner_edited)
            self._column.insertWidget(0, self._inner)
        self.button.setAccessibleName(self.button.text())

    def show_value(self, value: object) -> None:
        had = self._value is not None
        self._value = value
        if had != (value is not None):
            self._build()
        elif self._inner is not None:
            self._inner.show_value(value)

    def _clicked(self) -> None:
        self._value = new_value(self._kind.inner) if self._value is None else None
        self._build()
        self.edited.emit(self._value, "")

    def _inner_edited(self, value: object, words: object) -> None:
        self._value = value
        self.edited.emit(value, words)


class UnionEditor(Editor):
    """A chooser of the sort, and the fields of the sort chosen."""

    inline = False
    indented = True

    def __init__(self, kind: UnionKind, value: msgspec.Struct, special: Special) -> None:
        super().__init__()
        self._kind, self._special = kind, special
        self._value = value
        self._inner: Editor | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        choices = tuple((one, tag_of(one)) for one in kind.of)
        self.chooser = ChoiceField(choices, type(value))
        self.chooser.name_it("Sort", "What sort of thing it is; fields both sorts have are kept")
        self.chooser.edited.connect(self._sort_chosen)
        self._column.addWidget(self.chooser)
        self._build()

    def _build(self) -> None:
        if self._inner is not None:
            self._inner.hide()
            self._inner.deleteLater()
        self._inner = StructEditor(self._value, self._special, label_width=INNER_LABEL_WIDTH)
        self._inner.edited.connect(self._inner_edited)
        self._column.addWidget(self._inner)

    def show_value(self, value: object) -> None:
        if value is self._value or not isinstance(value, msgspec.Struct):
            return
        same_sort = type(value) is type(self._value)
        self._value = value
        if same_sort and self._inner is not None:
            self._inner.show_value(value)
        else:
            self.chooser.show_value(type(value))
            self._build()

    def _sort_chosen(self, sort: object, _words: object) -> None:
        if isinstance(sort, type) and issubclass(sort, msgspec.Struct):
            self._value = new_struct(sort, like=self._value)
            self._build()
            self.edited.emit(self._value, "sort")

    def _inner_edited(self, value: object, words: object) -> None:
        if isinstance(value, msgspec.Struct):
            self._value = value
            self.edited.emit(value, words)


class ListEditor(Editor):
    """Parts one under the other, each with a button that takes it away, and one that adds."""

    inline = False
    indented = True

    def __init__(
        self,
        kind: ListKind,
        value: tuple[object, ...],
        owner: type[msgspec.Struct],
        name: str,
        special: Special,
    ) -> None:
        super().__init__()
        self._kind, self._owner, self._name, self._special = kind, owner, name, special
        self._value = value
        self._rows: list[tuple[QWidget, Editor]] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self.add = small_button(f"Add {one_of(name)}", f"Add {one_of(name)}")
        self.add.clicked.connect(self._add_clicked)
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self._build()

    @property
    def parts(self) -> tuple[Editor, ...]:
        """The editors from top to bottom."""
        return tuple(editor for _, editor in self._rows)

    def _build(self) -> None:
        for box, _ in self._rows:
            box.hide()
            box.deleteLater()
        self._rows = []
        for at, value in enumerate(self._value):
            editor = make_editor(self._kind.inner, value, self._owner, self._name, self._special)
            editor.edited.connect(self._part_edited)
            box = QWidget()
            row = QHBoxLayout(box)
            row.setContentsMargins(0, 0, 0, 0)
            row.setSpacing(4)
            remove = small_button("×", f"Take {one_of(self._name)} {at + 1} away")
            remove.clicked.connect(self._remove_clicked)
            row.addWidget(_indented(editor) if editor.indented else editor, 1)
            row.addWidget(remove, 0, Qt.AlignmentFlag.AlignTop)
            remove.setProperty("row", at)
            self._column.insertWidget(at, box)
            self._rows.append((box, editor))

    def show_value(self, value: object) -> None:
        if not isinstance(value, tuple) or value is self._value:
            return
        same_length = len(value) == len(self._value)
        self._value = value
        if same_length:
            for (_, editor), part in zip(self._rows, value, strict=True):
                editor.show_value(part)
        else:
            self._build()

    def _part_edited(self, value: object, words: object) -> None:
        for at, (_, editor) in enumerate(self._rows):
            if editor is self.sender():
                self._change((*self._value[:at], value, *self._value[at + 1 :]), words, False)
                return

    def _remove_clicked(self) -> None:
        button = self.sender()
        at = int(button.property("row")) if button is not None else -1
        if 0 <= at < len(self._value):
            self._change((*self._value[:at], *self._value[at + 1 :]), "", True)

    def _add_clicked(self) -> None:
        """Add one like the last, so that only what differs has to be typed."""
        if self._value and isinstance(self._value[-1], msgspec.Struct):
            added: object = _unlike(self._value[-1], self._value)
        else:
            added = new_value(self._kind.inner)
        self._change((*self._value, added), "", True)

    def _change(self, value: tuple[object, ...], words: object, rebuild: bool) -> None:
        self._value = value
        if rebuild:
            self._build()
        self.edited.emit(value, words)


def _unlike(last: msgspec.Struct, others: tuple[object, ...]) -> msgspec.Struct:
    """A copy whose id or name no other has."""
    for key in ("id", "name"):
        now = getattr(last, key, None)
        if isinstance(now, str):
            taken = {getattr(one, key, None) for one in others}
            stem = now.rstrip("0123456789").rstrip(" -") or now or key
            joint = "-" if key == "id" else " "
            number = 2
            while f"{stem}{joint}{number}" in taken:
                number += 1
            return msgspec.structs.replace(last, **{key: f"{stem}{joint}{number}"})
    return last


_SINGULAR = {
    "losses": "loss",
    "branches": "breaker",
    "taps": "tap",
    "inlets": "inlet",
    "loss": "point",
    "curve": "point",
    "cases": "operating case",
    "outline": "corner",
    "origins": "origin",
}


def one_of(name: str) -> str:
    """What one part of a list is called."""
    words = name.replace("_", " ")
    return _SINGULAR.get(name, words[:-1] if words.endswith("s") else words)


def small_button(text: str, tip: str) -> QToolButton:
    """A quiet button inside an editor."""
    made = QToolButton()
    made.setText(text)
    made.setProperty("link", True)
    made.setToolTip(tip)
    made.setAccessibleName(tip)
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made
