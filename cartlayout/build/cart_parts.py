"""Parts of the cart named by short texts, so that they can be selected as items are.

"zone:0", "caster:2", "leg:1", "leaf:0", "corner:3", "edge:1", "handle", "panel".
"""

from dataclasses import dataclass
from typing import Literal

from msgspec.structs import replace

from .cart import Cart, CartLeg, Caster, Handle, Leaf, RearPanel, Zone
from .edits import EditError
from .geometry import outline

PartKind = Literal["zone", "caster", "leg", "leaf", "corner", "edge", "handle", "panel"]
CartPart = Zone | Caster | CartLeg | Leaf | Handle | RearPanel
_LISTS: dict[str, str] = {"zone": "zones", "caster": "casters", "leg": "legs", "leaf": "leaves"}
_SINGLE: dict[str, str] = {"handle": "handle", "panel": "rear_panel"}
ZONE_WORDS = {"opening": "hole", "no-go": "no-go zone", "reserved": "reserved zone"}


@dataclass(frozen=True, slots=True)
class PartRef:
    """Which part of the cart."""

    kind: PartKind
    index: int = 0

    def __str__(self) -> str:
        return self.kind if self.kind in _SINGLE else f"{self.kind}:{self.index}"


def ref_of(text: str) -> PartRef | None:
    """Read what `str` of a reference wrote; None for anything else."""
    kind, _, number = text.partition(":")
    if kind in _SINGLE and not number:
        return PartRef(kind)  # type: ignore[arg-type]
    if kind in (*_LISTS, "corner", "edge") and number.isdigit():
        return PartRef(kind, int(number))  # type: ignore[arg-type]
    return None


def exists(cart: Cart, text: str) -> bool:
    """Whether the cart has such a part."""
    ref = ref_of(text)
    if ref is None:
        return False
    if ref.kind in ("corner", "edge"):
        return ref.index < len(outline(cart))
    return part_of(cart, text) is not None


def part_of(cart: Cart, text: str) -> CartPart | None:
    """The struct of a part; None for corners, edges and what is not there."""
    ref = ref_of(text)
    if ref is None or ref.kind in ("corner", "edge"):
        return None
    if ref.kind in _SINGLE:
        single: CartPart | None = getattr(cart, _SINGLE[ref.kind])
        return single
    parts: tuple[CartPart, ...] = getattr(cart, _LISTS[ref.kind])
    return parts[ref.index] if ref.index < len(parts) else None


def with_part(cart: Cart, text: str, part: CartPart | None) -> Cart:
    """The cart with a part changed, or without it.

    Raises:
        EditError: the cart has no such part.
    """
    ref = ref_of(text)
    if ref is None or part_of(cart, text) is None:
        raise EditError(f"the cart has no part '{text}'")
    if ref.kind in _SINGLE:
        return replace(cart, **{_SINGLE[ref.kind]: part})
    name = _LISTS[ref.kind]
    parts = getattr(cart, name)
    between = () if part is None else (part,)
    return replace(cart, **{name: (*parts[: ref.index], *between, *parts[ref.index + 1 :])})


def add_part(cart: Cart, part: CartPart) -> tuple[Cart, str]:
    """The cart with one part more, and how the part is called. A handle or panel replaces the old.

    Raises:
        TypeError: it is no part of a cart.
    """
    if isinstance(part, Handle):
        return replace(cart, handle=part), "handle"
    if isinstance(part, RearPanel):
        return replace(cart, rear_panel=part), "panel"
    kinds: dict[type, str] = {Zone: "zone", Caster: "caster", CartLeg: "leg", Leaf: "leaf"}
    kind = kinds[type(part)]
    parts = getattr(cart, _LISTS[kind])
    return replace(cart, **{_LISTS[kind]: (*parts, part)}), f"{kind}:{len(parts)}"


def all_parts(cart: Cart, level: str) -> tuple[str, ...]:
    """Every part that can be seen on a level, in the order in which the keyboard walks them."""
    return (
        *(f"zone:{at}" for at, zone in enumerate(cart.zones) if zone.level == level),
        *(f"leaf:{at}" for at in range(len(cart.leaves))),
        *(("panel",) if cart.rear_panel is not None else ()),
        *(("handle",) if cart.handle is not None else ()),
        *(f"caster:{at}" for at in range(len(cart.casters))),
        *(f"leg:{at}" for at in range(len(cart.legs))),
        *(f"edge:{at}" for at in range(len(outline(cart)))),
        *(f"corner:{at}" for at in range(len(outline(cart)))),
    )


def name_of(cart: Cart, text: str) -> str:
    """What to call a part on the screen, such as "Jugs", "caster 2" or "rear panel"."""
    part, ref = part_of(cart, text), ref_of(text)
    if isinstance(part, (Zone, Leaf)):
        return part.name or (ZONE_WORDS[part.kind] if isinstance(part, Zone) else "leaf")
    if isinstance(part, RearPanel):
        return f"{part.side} panel"
    if isinstance(part, Handle):
        return f"{part.side} handle"
    return f"{ref.kind} {ref.index + 1}" if ref is not None else text
