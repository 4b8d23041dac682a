"""What can be edited, read from the document's structs themselves: no list kept beside them."""

import ast
import inspect
import types
import typing
from dataclasses import dataclass
from functools import cache

import msgspec

from ...units import Quantity, capitalised


@dataclass(frozen=True, slots=True)
class QuantityKind:
    """A number with a unit."""

    of: type[Quantity]


@dataclass(frozen=True, slots=True)
class TextKind:
    """Free text; long ones get more lines."""

    long: bool = False


@dataclass(frozen=True, slots=True)
class NumberKind:
    """A number without a unit, within bounds; a share is shown in percent."""

    least: float
    greatest: float
    share: bool = False
    whole: bool = False


@dataclass(frozen=True, slots=True)
class BoolKind:
    """Yes or no."""


@dataclass(frozen=True, slots=True)
class ChoiceKind:
    """One of some texts."""

    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StructKind:
    """A group of fields."""

    of: type[msgspec.Struct]


@dataclass(frozen=True, slots=True)
class UnionKind:
    """One of some structs, told apart by their tag."""

    of: tuple[type[msgspec.Struct], ...]


@dataclass(frozen=True, slots=True)
class OptionalKind:
    """Something that may be unknown or absent."""

    inner: "Kind"


@dataclass(frozen=True, slots=True)
class ListKind:
    """Any number of the same kind."""

    inner: "Kind"


Kind = (
    QuantityKind
    | TextKind
    | NumberKind
    | BoolKind
    | ChoiceKind
    | StructKind
    | UnionKind
    | OptionalKind
    | ListKind
)


@dataclass(frozen=True, slots=True)
class FieldInfo:
    """One field of a struct, for people."""

    name: str
    label: str
    tip: str
    kind: Kind


_NUMBERS: dict[str, NumberKind] = {
    "rotation": NumberKind(-360.0, 360.0),
    "fill": NumberKind(0.0, 1.0, share=True),
    "power_factor": NumberKind(0.05, 1.0),
    "resistive_share": NumberKind(0.0, 1.0, share=True),
    "drained_share": NumberKind(0.0, 1.0, share=True),
    "usable_share": NumberKind(0.01, 1.0, share=True),
    "efficiency": NumberKind(0.01, 1.0, share=True),
    "used": NumberKind(0.0, 1.0, share=True),
    "closed_share": NumberKind(0.0, 1.0, share=True),
    "starts_per_hour": NumberKind(0.0, 10000.0),
    "start_multiple": NumberKind(1.0, 20.0),
    "drinks_per_hour": NumberKind(0.0, 5000.0),
    "altitude_m": NumberKind(-430.0, 6000.0),
    "loss_coefficient": NumberKind(0.0, 1000.0),
    "count": NumberKind(1, 100, whole=True),
    "loaded_conductors": NumberKind(2, 6, whole=True),
}
_LONG = {"story", "note"}
_LABELS = {
    "x": "From the left",
    "y": "From the rear",
    "z": "Height on body",
    "altitude_m": "Altitude, m",
    "gfci": "GFCI or RCD",
    "mass": "Mass, empty",
    "mass_full": "Mass, full",
    "raised": "Raised by",
    "fill": "Filled now",
    "used": "Life used up",
    "closed_share": "Turned shut by",
    "starts_per_hour": "Starts an hour, most",
    "feed": "Fed by",
    "net_suction_head": "NPSH required",
    "dissolved": "Dissolved solids",
    "air_gap": "Air gap",
    "level_probe": "Level probe",
    "watts": "Power",
    "amps": "Current",
    "is_open": "Open",
    "of": "Of what",
    "a": "From",
    "b": "To",
    "rotation": "Rotation, °",
    "kind": "Sort",
    "drinks_per_hour": "Drinks an hour",
    "cut_in": "Cut-in",
    "cut_out": "Cut-out",
    "pre_charge": "Pre-charge",
    "pick_up": "Pick-up height",
    "at": "At",
    "travels": "Travels on it",
    "operated": "Hands use it",
    "purpose": "Kept free for",
}


@cache
def kind_of(hint: object, name: str = "") -> Kind:
    """The kind that a type hint of a struct's field means.

    Raises:
        TypeError: nothing here edits it.
    """
    origin = typing.get_origin(hint)
    if isinstance(hint, typing.TypeAliasType) if hasattr(typing, "TypeAliasType") else False:
        return kind_of(hint.__value__, name)  # type: ignore[attr-defined]
    if origin in (typing.Union, types.UnionType):
        return _union(typing.get_args(hint), name)
    if origin is typing.Literal:
        return ChoiceKind(tuple(str(one) for one in typing.get_args(hint)))
    if origin is tuple:
        return ListKind(kind_of(typing.get_args(hint)[0], name))
    return _plain(hint, name)


def _plain(hint: object, name: str) -> Kind:
    if not isinstance(hint, type):
        raise TypeError(f"no editor for {hint}")
    if issubclass(hint, Quantity):
        return QuantityKind(hint)
    if issubclass(hint, msgspec.Struct):
        return StructKind(hint)
    if hint is bool:
        return BoolKind()
    if hint is str:
        return TextKind(long=name in _LONG)
    if hint in (int, float):
        return _NUMBERS.get(name, NumberKind(-1e9, 1e9, whole=hint is int))
    raise TypeError(f"no editor for {hint}")


def _union(members: tuple[object, ...], name: str) -> Kind:
    known = [one for one in members if one is not type(None)]
    if len(known) == 1:
        kind = kind_of(known[0], name)
    else:
        structs = tuple(one for one in known if isinstance(one, type))
        kind = UnionKind(structs)
    return OptionalKind(kind) if len(known) < len(members) else kind


@cache
def fields_of(struct: type[msgspec.Struct]) -> tuple[FieldInfo, ...]:
    """Every field of a struct in its order, with a label and a tip for people."""
    hints = typing.get_type_hints(struct)
    tips = _tips(struct)
    return tuple(
        FieldInfo(name, label_of(name), tips.get(name, ""), kind_of(hints[name], name))
        for name in struct.__struct_fields__
    )


def label_of(name: str) -> str:
    """A field's name as a label."""
    if name in _LABELS:
        return _LABELS[name]
    words = name.replace("_", " ")
    return capitalised(words)


@cache
def _tips(struct: type[msgspec.Struct]) -> dict[str, str]:
    """The texts that stand under the fields in the struct's source, field by field."""
    try:
        tree = ast.parse(inspect.getsource(inspect.getmodule(struct)))  # type: ignore[arg-type]
    except (OSError, TypeError, SyntaxError):
        return {}
    for node in tree.body:
        if isinstance(node, ast.ClassDef) and node.name == struct.__name__:
            return _texts_under_fields(node)
    return {}


def _texts_under_fields(node: ast.ClassDef) -> dict[str, str]:
    found: dict[str, str] = {}
    names: list[str] = []
    for one in node.body:
        if isinstance(one, ast.AnnAssign) and isinstance(one.target, ast.Name):
            names = [one.target.id]
        elif (
            isinstance(one, ast.Expr)
            and isinstance(one.value, ast.Constant)
            and isinstance(one.value.value, str)
        ):
            text = " ".join(one.value.value.split())
            found.update(dict.fromkeys(names, text))
            names = []
    return found


def tag_of(struct: type[msgspec.Struct]) -> str:
    """What a struct is called in a chooser of sorts."""
    config = struct.__struct_config__
    return str(config.tag) if config.tag is not None else struct.__name__.lower()


def new_value(kind: Kind) -> object:
    """Something sensible to start from where a part is added."""
    if isinstance(kind, QuantityKind):
        return kind.of(kind.of.example)
    if isinstance(kind, ChoiceKind):
        return kind.values[0]
    if isinstance(kind, NumberKind):
        start = max(kind.least, min(kind.greatest, 1.0))
        return int(start) if kind.whole else start
    if isinstance(kind, StructKind):
        return new_struct(kind.of)
    if isinstance(kind, UnionKind):
        return new_struct(kind.of[0])
    simple: dict[type, object] = {TextKind: "", BoolKind: False, OptionalKind: None, ListKind: ()}
    return simple[type(kind)]


def new_struct(struct: type[msgspec.Struct], like: msgspec.Struct | None = None) -> msgspec.Struct:
    """A struct with its defaults; what has none is taken from a like one, or made up."""
    given: dict[str, object] = {}
    for field, info in zip(msgspec.structs.fields(struct), fields_of(struct), strict=True):
        old = getattr(like, field.name, None)
        if old is not None and _same_kind(like, field.name, info.kind):
            given[field.name] = old
        elif field.required:
            given[field.name] = new_value(info.kind)
    return struct(**given)


def _same_kind(like: msgspec.Struct | None, name: str, kind: Kind) -> bool:
    if like is None:
        return False
    return any(info.name == name and info.kind == kind for info in fields_of(type(like)))
