"""What one picture of the plan lends to the next: at a step of a drag nearly all of it is alike."""

from collections.abc import Callable
from functools import wraps
from typing import Any, Protocol, TypeVar

T = TypeVar("T")


class _Shape(Protocol):
    @property
    def id(self) -> str: ...


S = TypeVar("S", bound=_Shape)


class Kept:
    """Values by key, each with the objects it was made from.

    A value is lent as long as it was made from equal objects. What is not
    asked for is not carried on, so nothing gathers.
    """

    def __init__(self, before: "Kept | None" = None) -> None:
        self._before: dict[Any, tuple[tuple[Any, ...], Any]] = before._now if before else {}
        self._now: dict[Any, tuple[tuple[Any, ...], Any]] = {}

    def done(self) -> "Kept":
        """Let go of the one before: a picture lends to the next only."""
        self._before = {}
        return self

    def get(self, key: Any, reads: tuple[Any, ...], make: Callable[[], T]) -> T:
        """The value of a key, made anew only if something it reads is not what it was.

        One that comes out equal stays the same object, for those who compare by identity.
        """
        old = self._before.get(key)
        # Tuples compare by identity first: that is all there is to do for nearly all of them.
        if old is not None and old[0] == reads:
            self._now[key] = old
            return old[1]  # type: ignore[no-any-return]
        value = make()
        if old is not None and old[1] == value:
            value = old[1]
        self._now[key] = reads, value
        return value

    def before(self, key: Any) -> object:
        """What an earlier picture left here by `put`; None for nothing."""
        old = self._before.get(key)
        return old[1] if old is not None else None

    def put(self, key: Any, value: object) -> None:
        """Leave something for the next picture."""
        self._now[key] = (), value


def once(make: Callable[[S], T]) -> Callable[[S], T]:
    """Like a cache for one argument, kept on the shape itself and let go with it."""
    name = f"_{make.__module__}.{make.__qualname__}"

    @wraps(make)
    def kept(shape: S) -> T:
        known = shape.__dict__
        if name not in known:
            known[name] = make(shape)
        return known[name]  # type: ignore[no-any-return]

    return kept
