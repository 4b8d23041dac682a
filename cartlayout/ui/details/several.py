"""Several items at once: the fields they share, each changed for all of them in one step."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

import msgspec
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from ...build import Item, Tank, edits
from ...build.edits import EditError
from ...units import counted
from .. import widgets
from ..commands import sentence
from ..selection import Selection
from ..session import Session
from .editors import LABEL_WIDTH, Special, make_editor
from .facts import several_facts
from .fields import Editor
from .kinds import (
    BoolKind,
    ChoiceKind,
    FieldInfo,
    NumberKind,
    OptionalKind,
    QuantityKind,
    StructKind,
    TextKind,
    UnionKind,
    fields_of,
)
from .pages import Page
from .special import special_for

Path = tuple[str, ...]
Struct = msgspec.Struct
_PLAIN = (QuantityKind, TextKind, NumberKind, BoolKind, ChoiceKind)
_PLACE = ("level", "x", "y", "rotation", "mount", "raised", "locked", "travels")
_BODY = ("kind", "size", "mass", "mass_full", "heat", "operated", "symbol")


@dataclass(frozen=True, slots=True)
class Shared:
    """A field that all of several structs have."""

    path: Path
    info: FieldInfo
    owner: type[Struct]
    heading: str = ""
    """Of the part it belongs to; empty: of the items themselves."""


def shared_fields(
    structs: Sequence[Struct],
    only: tuple[str, ...] | None = None,
    path: Path = (),
    heading: str = "",
) -> Iterator[Shared]:
    """The plain fields that structs of one type share, with those of their parts.

    Of a part that may be of several sorts, or absent, nothing unless all have the same sort.
    """
    owner = type(structs[0])
    infos = [info for info in fields_of(owner) if only is None or info.name in only]
    if only is not None:
        infos.sort(key=lambda info: only.index(info.name))
    for info in infos:
        here = (*path, info.name)
        inner = info.kind.inner if isinstance(info.kind, OptionalKind) else info.kind
        if isinstance(inner, _PLAIN):
            yield Shared(here, info, owner, heading)
        elif isinstance(inner, (StructKind, UnionKind)):
            parts = [getattr(struct, info.name) for struct in structs]
            sort = type(parts[0])
            if issubclass(sort, Struct) and all(type(part) is sort for part in parts):
                yield from shared_fields(parts, path=here, heading=info.label)


def value_at(struct: Struct, path: Path) -> object:
    """A field of a part of a struct."""
    value: object = struct
    for name in path:
        value = getattr(value, name)
    return value


def with_value(struct: Struct, path: Path, value: object) -> Struct:
    """The struct with one field of one part changed."""
    name, rest = path[0], path[1:]
    if rest:
        value = with_value(getattr(struct, name), rest, value)
    return replace(struct, **{name: value})


class SharedEditor(Editor):
    """One row a shared field; a field in which they differ is empty until something is entered.

    What `edited` hands over is the path and the value, not a struct.
    """

    inline = False

    def __init__(
        self,
        items: tuple[Item, ...],
        fields: Callable[[tuple[Item, ...]], tuple[Shared, ...]],
        special: Special,
    ) -> None:
        super().__init__()
        self._fields, self._special = fields, special
        self._items: tuple[Item, ...] = ()
        self._shared: tuple[Shared, ...] = ()
        self._rows: list[QWidget] = []
        self.editors: dict[str, Editor] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnMinimumWidth(0, LABEL_WIDTH)
        self._grid.setColumnStretch(1, 1)
        self.show_value(items)

    def show_value(self, value: object) -> None:
        items = cast("tuple[Item, ...]", value)
        if items == self._items or not items:
            return
        self._items = items
        shared = self._fields(items)
        if shared != self._shared:
            self._make(shared)
        for one in shared:
            values = [value_at(item, one.path) for item in items]
            editor = self.editors[".".join(one.path)]
            if all(other == values[0] for other in values):
                editor.show_value(values[0])
            else:
                editor.show_differing()

    def _make(self, shared: tuple[Shared, ...]) -> None:
        for row in self._rows:
            row.hide()
            row.deleteLater()
        self._rows, self.editors, self._shared = [], {}, shared
        at, heading = 0, ""
        for one in shared:
            if one.heading != heading:
                heading = one.heading
                self._put(widgets.wrapped(heading, "strong"), at, whole=True)
                at += 1
            self._row(one, at)
            at += 1
        if not shared:
            self._put(widgets.wrapped("They share no fields here.", "muted"), 0, whole=True)

    def _row(self, one: Shared, at: int) -> None:
        first = value_at(self._items[0], one.path)
        editor = self._special(one.owner, one.info, first)
        if editor is None:
            editor = make_editor(one.info.kind, first, one.owner, one.info.name, self._special)
        name = f"{one.heading}, {one.info.label.lower()}" if one.heading else one.info.label
        editor.name_it(name, one.info.tip)
        editor.setProperty("path", ".".join(one.path))
        editor.edited.connect(self._edited)
        self.editors[".".join(one.path)] = editor
        label = widgets.wrapped(one.info.label, "muted")
        label.setToolTip(one.info.tip)
        label.setBuddy(editor)
        label.setFixedWidth(LABEL_WIDTH)
        label.setContentsMargins(0, 4, 0, 0)
        self._put(label, at)
        self._put(editor, at, column=1)

    def _put(self, widget: QWidget, at: int, column: int = 0, *, whole: bool = False) -> None:
        self._grid.addWidget(widget, at, column, 1, 2 if whole else 1, Qt.AlignmentFlag.AlignTop)
        self._rows.append(widget)

    def _edited(self, value: object, words: object) -> None:
        editor = self.sender()
        path = editor.property("path") if editor is not None else None
        one = next((one for one in self._shared if ".".join(one.path) == path), None)
        if one is not None:
            self.edited.emit((one.path, value), words or one.info.label.lower())


class SeveralPage(Page):
    """Several items: what they have in common, changed for all of them at once."""

    def __init__(self, session: Session, opened: dict[str, bool], selection: Selection) -> None:
        super().__init__(session, opened)
        self.selection = selection
        items = self._items()
        self.add_section("Several", items, self._make_place, self._edited)
        self.add_section("Body", items, self._make_body, self._edited)
        self.add_section("Electrical", items, self._make_electrical, self._edited)
        self.add_section("Water", items, self._make_water, self._edited)
        self.refresh()

    def _items(self) -> tuple[Item, ...]:
        build = self.session.shown
        chosen = set(self.selection.items)
        return tuple(item for item in build.items if item.id in chosen)

    def refresh(self) -> None:
        items, session = self._items(), self.session
        if not items:
            return
        runs = len(self.selection.runs)
        more = f" and {counted(runs, 'run')}" if runs else ""
        names = ", ".join(item.name for item in items)
        self.heading_changed.emit(f"{counted(len(items), 'item')}{more}", names)
        self.facts.show_facts(
            several_facts(session.analysis, items, session.power_case, session.system)
        )
        for title, section in self.sections.items():
            section.setVisible(title == "Several" or bool(_FIELDS[title](items)))
            section.show_value(items)

    def _make_place(self, value: object) -> Editor:
        return self._editor(value, place_fields)

    def _make_body(self, value: object) -> Editor:
        return self._editor(value, body_fields)

    def _make_electrical(self, value: object) -> Editor:
        return self._editor(value, electrical_fields)

    def _make_water(self, value: object) -> Editor:
        return self._editor(value, water_fields)

    def _editor(
        self, value: object, fields: Callable[[tuple[Item, ...]], tuple[Shared, ...]]
    ) -> Editor:
        items = cast("tuple[Item, ...]", value)
        return SharedEditor(items, fields, special_for(self.session.build))

    def _edited(self, value: object, words: object) -> None:
        """Give the one field that was changed to all of them."""
        path, new = cast("tuple[Path, object]", value)
        build = self.session.build
        chosen = [item for item in build.items if item.id in self.selection.items]
        try:
            for item in chosen:
                build = edits.replace_item(build, cast(Item, with_value(item, path, new)))
        except EditError as error:
            self.session.tell(sentence(str(error)))
            return
        self.apply(f"Change {words} of {counted(len(chosen), 'item')}", build)


def place_fields(items: tuple[Item, ...]) -> tuple[Shared, ...]:
    """Where they are; of tanks also how full."""
    tanks = all(isinstance(item.specification.water, Tank) for item in items)
    only = (*_PLACE, "fill") if tanks else _PLACE
    return tuple(shared_fields(cast(Any, items), only))


def body_fields(items: tuple[Item, ...]) -> tuple[Shared, ...]:
    """Size, mass and the like."""
    specs = [item.specification for item in items]
    return tuple(shared_fields(specs, _BODY, ("specification",)))


def electrical_fields(items: tuple[Item, ...]) -> tuple[Shared, ...]:
    """Of the electrical side, if all are of one sort."""
    return _role(items, "electrical")


def water_fields(items: tuple[Item, ...]) -> tuple[Shared, ...]:
    """Of the water side, if all are of one sort."""
    return _role(items, "water")


def _role(items: tuple[Item, ...], name: str) -> tuple[Shared, ...]:
    roles = [getattr(item.specification, name) for item in items]
    sort = type(roles[0])
    if not issubclass(sort, Struct) or any(type(role) is not sort for role in roles):
        return ()
    return tuple(shared_fields(roles, path=("specification", name)))


_FIELDS: dict[str, Callable[[tuple[Item, ...]], tuple[Shared, ...]]] = {
    "Several": place_fields,
    "Body": body_fields,
    "Electrical": electrical_fields,
    "Water": water_fields,
}
