"""One page for what is selected: facts on top, then every property in sections."""

import dataclasses
from collections.abc import Callable
from typing import Any, cast

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from ...build import VENUE, Build, Cart, Item, OperatingCase, Tank, edits
from ...build.edits import EditError
from ...findings.finding import Finding
from ...units import capitalised, counted
from ..boards.findings import FindingCard
from ..commands import sentence
from ..selection import Selection
from ..session import Session
from ..typical import marks_of
from .cart_changes import CartEdits
from .cart_editors import ShapeEditor
from .editors import ListEditor, StructEditor, make_editor, small_button
from .fact import Fact
from .facts import build_facts, item_facts
from .fields import Editor
from .kinds import ListKind, StructKind, fields_of
from .ladders import Node, ladders
from .special import special_for
from .views import FactsView, LadderView, Section
from .water_facts import window_facts
from .water_parts import OPEN_AT_FIRST, WaterParts

EDIT_CART_TIP = "Its outline, levels, wheels, legs, leaves, holes and places kept free"
USUALLY_OPEN = {
    "Place": True,
    "Way": True,
    "This build": True,
    "Several": True,
    **dict.fromkeys(OPEN_AT_FIRST, True),
}
"""Sections that are unfolded at first."""


class Page(QWidget):
    """What all pages have in common."""

    heading_changed = Signal(object, object)
    """Title and the line under it."""

    def __init__(self, session: Session, opened: dict[str, bool]) -> None:
        super().__init__()
        self.setObjectName("scrolled")
        self.session = session
        self._opened = opened
        self.sections: dict[str, Section] = {}
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(6)
        self.facts = FactsView()
        self.facts.working_asked.connect(session.working_requested)
        self._marks = marks_of(session)
        self.ladder = LadderView()
        self.ladder.chosen.connect(self._step_chosen)
        self.ladder.hide()
        self._cards: list[FindingCard] = []
        self._card_box = QVBoxLayout()
        self._card_box.setSpacing(5)
        self.column.addWidget(self.facts)
        self.column.addLayout(self._card_box)
        self.column.addWidget(self.ladder)

    def refresh(self) -> None:
        """Show what the session has now."""
        raise NotImplementedError

    def add_section(
        self,
        title: str,
        value: object,
        make: Callable[[object], Editor],
        changed: Callable[[object, object], None],
    ) -> None:
        """Add a part that folds."""
        is_open = self._opened.get(title, False)
        section = Section(title, value, make, is_open, self.session.theme)
        section.toggled.connect(self._toggled)
        section.edited.connect(changed)
        self.sections[title] = section
        self.column.addWidget(section)

    def ink(self) -> None:
        """Take over the theme."""
        for section in self.sections.values():
            section.ink(self.session.theme)

    def focus_first(self) -> None:
        """Put the cursor into the first field, unfolding its section."""
        for section in self.sections.values():
            section.open()
            editor = section.editor
            while editor is not None and (inner := getattr(editor, "editors", None)):
                editor = next(iter(inner.values()))
            if editor is not None:
                editor.setFocus(Qt.FocusReason.ShortcutFocusReason)
                line = getattr(editor, "line", None)
                if isinstance(line, QLineEdit):
                    line.selectAll()
                return

    def show_findings(self, ids: set[str]) -> None:
        """Show what is said about these items and runs."""
        session = self.session
        said = tuple(
            one
            for one in session.analysis.findings
            if one.severity != "note" and ids & {*one.items[:1], *one.runs}
        )
        while len(self._cards) < len(said):
            card = FindingCard(said[len(self._cards)], session.system, session.theme)
            card.chosen.connect(self._finding_chosen)
            card.working_asked.connect(session.working_requested)
            self._card_box.addWidget(card)
            self._cards.append(card)
        # Cards that are not needed now stay hidden: in a drag findings come and go.
        for card in self._cards[len(said) :]:
            card.fold_up()
            card.hide()
        for card, finding in zip(self._cards, said, strict=False):
            card.show_finding(finding, session.system, session.theme)
            card.show()

    def marked(self, facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
        """Facts with what their numbers rest on."""
        return tuple(
            dataclasses.replace(one, about=about) if (about := self._marks.of(one.numbers)) else one
            for one in facts
        )

    def apply(self, label: str, build: Build) -> None:
        """Make one undo step."""
        self.session.apply(label, build)

    def _finding_chosen(self, finding: Finding) -> None:
        for card in self._cards:
            card.set_open(card.finding is finding and not card.is_open)

    def _toggled(self, title: str, is_open: bool) -> None:
        self._opened[title] = is_open

    def _step_chosen(self, one: str) -> None:
        build = self.session.build
        if build.item(one) is not None:
            self.session.show_on_plan(Selection(items=(one,)))
        elif build.run(one) is not None:
            self.session.show_on_plan(Selection(runs=(one,)))


class ItemPage(Page):
    """One item."""

    def __init__(self, session: Session, opened: dict[str, bool], item: Item) -> None:
        super().__init__(session, opened)
        self.item_id = item.id
        self._cases: dict[Node, str] = {}
        self._window: tuple[Fact, ...] = ()
        self.ladder.case_chosen.connect(self._case_chosen)
        self.water = WaterParts(self, item)
        place = [
            "label",
            "level",
            "x",
            "y",
            "rotation",
            "mount",
            "raised",
            "travels",
            "locked",
            "group",
        ]
        if isinstance(item.specification.water, Tank):
            place.insert(4, "fill")
        self._place = tuple(place)
        self.add_section("Place", item, self._make_place, self._item_edited)
        spec = item.specification
        self.add_section("Body", spec, self._make_body, self._spec_edited)
        self.add_section("Electrical", spec.electrical, self._make_electrical, self._part_edited)
        self.add_section("Water", spec.water, self._make_water, self._part_edited)
        self.add_section("Ports", spec.ports, self._make_ports, self._part_edited)
        self.add_section(
            "Where its numbers are from", spec.origins, self._make_origins, self._part_edited
        )
        self.refresh()

    @property
    def item(self) -> Item | None:
        """The item as it is shown now."""
        return self.session.shown.item(self.item_id)

    def refresh(self) -> None:
        item, session = self.item, self.session
        if item is None:
            return
        spec = item.specification
        where = "Venue" if item.level == "venue" else item.level.capitalize()
        self.heading_changed.emit(item.name, f"{capitalised(spec.kind)} · {where}")
        analysis = session.analysis
        if not session.previewing:
            self._window = tuple(window_facts(analysis, item, session.system))
        facts = item_facts(analysis, item, session.power_case, session.water_case, session.system)
        self.facts.show_facts((*self.marked(facts), *self._window))
        self.show_findings({item.id})
        self.ladder.show_ladders(
            ladders(analysis, item.id, session.system, self._cases), session.theme
        )
        self.water.refresh(item)
        for title, value in (
            ("Place", item),
            ("Body", spec),
            ("Electrical", spec.electrical),
            ("Water", spec.water),
            ("Ports", spec.ports),
            ("Where its numbers are from", spec.origins),
        ):
            self.sections[title].show_value(value)

    def _case_chosen(self, node: Node, case: str) -> None:
        self._cases[node] = case
        self.refresh()

    def focus_label(self) -> None:
        """Put the cursor into the label."""
        self.sections["Place"].open()
        editor = self.sections["Place"].editor
        if isinstance(editor, StructEditor):
            field = editor.editors["label"]
            field.setFocus()
            cast(Any, field).line.selectAll()

    def _special(self) -> Any:
        return special_for(self.session.build, self.item)

    def _make_place(self, value: object) -> Editor:
        return StructEditor(cast(Item, value), self._special(), only=self._place)

    def _make_body(self, value: object) -> Editor:
        only = (
            "name",
            "kind",
            "size",
            "mass",
            "mass_full",
            "clearances",
            "operated",
            "heat",
            "symbol",
        )
        return StructEditor(cast(Any, value), self._special(), only=only)

    def _make_part(self, name: str, value: object) -> Editor:
        from ...build import Specification

        kind = next(info.kind for info in fields_of(Specification) if info.name == name)
        editor = make_editor(kind, value, Specification, name, self._special())
        editor.setProperty("part", name)
        return editor

    def _make_electrical(self, value: object) -> Editor:
        return self._make_part("electrical", value)

    def _make_water(self, value: object) -> Editor:
        return self._make_part("water", value)

    def _make_ports(self, value: object) -> Editor:
        return self._make_part("ports", value)

    def _make_origins(self, value: object) -> Editor:
        return self._make_part("origins", value)

    def _part_edited(self, value: object, words: object) -> None:
        section = self.sender()
        editor = section.editor if isinstance(section, Section) else None
        part = editor.property("part") if editor is not None else None
        item = self.session.build.item(self.item_id)
        if part and item is not None:
            self._spec_edited(replace(item.specification, **{part: value}), words or part)

    def _spec_edited(self, value: object, words: object) -> None:
        item = self.session.build.item(self.item_id)
        if item is not None:
            self._item_edited(replace(item, specification=cast(Any, value)), words)

    def _item_edited(self, value: object, words: object) -> None:
        item = cast(Item, value)
        try:
            build = edits.replace_item(self.session.build, item)
        except EditError as error:
            self.session.tell(sentence(str(error)))
            return
        self.apply(f"Change {words} of {item.name}", build)


class BuildPage(Page):
    """Nothing selected: the cart, the venue, the service, the operating cases."""

    _PARTS = (
        ("Venue", "venue"),
        ("Service", "service"),
    )

    def __init__(self, session: Session, opened: dict[str, bool]) -> None:
        super().__init__(session, opened)
        build = session.build
        self.edit_cart = small_button("Edit the cart on the plan", EDIT_CART_TIP)
        self.edit_cart.clicked.connect(self._edit_cart)
        self.column.insertWidget(1, self.edit_cart, 0, Qt.AlignmentFlag.AlignLeft)
        self._cart_edits = CartEdits(self)
        self.add_section("This build", build, self._make_build, self._build_edited)
        self.add_section("Cart", build.cart, self._make_cart, self._cart_edited)
        for title, name in self._PARTS:
            self.add_section(title, getattr(build, name), self._make_struct, self._part_edited)
        self.add_section("Operating cases", build.cases, self._make_cases, self._cases_edited)
        self.refresh()

    def refresh(self) -> None:
        build = self.session.shown
        levels = counted(len(build.cart.levels), "level")
        items = counted(sum(1 for item in build.items if item.level != VENUE), "item")
        self.heading_changed.emit(
            build.name or "Untitled", f"{items} on {levels}, region {build.region}"
        )
        self.facts.show_facts(build_facts(self.session.analysis, self.session.system))
        self.sections["This build"].show_value(build)
        self.sections["Cart"].show_value(build.cart)
        for title, name in self._PARTS:
            self.sections[title].show_value(getattr(build, name))
        self.sections["Operating cases"].show_value(build.cases)

    def _make_build(self, value: object) -> Editor:
        only = ("name", "designer", "revision", "region", "units", "story")
        return StructEditor(cast(Build, value), only=only)

    def _make_cart(self, value: object) -> Editor:
        return ShapeEditor(cast(Cart, value))

    def _cart_edited(self, value: object, words: object) -> None:
        editor = self.sections["Cart"].editor
        carry = editor.carry if isinstance(editor, ShapeEditor) else True
        self._cart_edits.shape_edited(value, words, carry)

    def _edit_cart(self) -> None:
        self.session.set_editing_cart(True)

    def _make_struct(self, value: object) -> Editor:
        return StructEditor(cast(Any, value), special_for(self.session.build))

    def _make_cases(self, value: object) -> Editor:
        return ListEditor(
            ListKind(StructKind(OperatingCase)),
            cast("tuple[object, ...]", value),
            Build,
            "cases",
            special_for(self.session.build),
        )

    def _build_edited(self, value: object, words: object) -> None:
        self.apply(f"Change {words} of the build", cast(Build, value))

    def _part_edited(self, value: object, words: object) -> None:
        section = self.sender()
        for title, name in self._PARTS:
            if self.sections[title] is section:
                build = replace(self.session.build, **{name: value})
                self.apply(f"Change {words} of the {name}", build)

    def _cases_edited(self, value: object, words: object) -> None:
        build = replace(self.session.build, cases=cast(Any, value))
        self.apply(f"Change {words or 'operating cases'}", build)
