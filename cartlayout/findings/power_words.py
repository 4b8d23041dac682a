"""Names and lists that the power rules put in their sentences."""

from collections.abc import Iterable, Sequence

from ..build import Build, Load
from ..limits import Profile, profile
from ..power.results import Circuit, Limit, PowerResult
from ..units import Phrase, UnitSystem, Value, show, show_pair
from .finding import Finding, Severity
from .number import Number
from .power_numbers import limits_of

PRACTICE = "common practice, no source"
_SHOWN_SETS = 4


def pair(limit: Limit) -> str:
    """A number against its limit, such as "25.8 of 20.0 A"; electrical units are everybody's."""
    return show_pair(limit.value, limit.limit, limit.dimension, UnitSystem.US)


def amps_text(amps: float) -> str:
    """Such as "13.8 A"."""
    return show(amps, "current", UnitSystem.US)


def breaker_text(amps: float) -> str:
    """Such as "20 A"."""
    return f"{amps:g} A"


def any_of(words: Sequence[str], join: str = "or") -> str:
    """Such as "a, b or c"."""
    every = list(words)
    if len(every) < 2:
        return "".join(every)
    return f"{', '.join(every[:-1])} {join} {every[-1]}"


def circuit_title(circuit: Circuit, text: str, **values: str) -> Phrase:
    """Such as "Circuit B carries 25.8 of 20.0 A"."""
    return Phrase.of("Circuit {letter} " + text, letter=circuit.letter, **values)


class PowerWords:
    """One build and its power result, with names looked up once."""

    def __init__(self, build: Build, power: PowerResult) -> None:
        self.build = build
        self.power = power
        self.profile: Profile = profile(build.region)
        self.items = {item.id: item for item in build.items}
        self.parents = {one.parent for one in power.circuits if one.parent is not None}
        self._numbers: dict[int, Number] | None = None

    def name(self, item_id: str) -> str:
        """What people call an item."""
        item = self.items.get(item_id)
        return item.name if item is not None else item_id

    def names(self, ids: Iterable[str], join: str = "and") -> str:
        """Names in a list."""
        return any_of([self.name(one) for one in ids], join)

    def with_amps(self, circuit: Circuit, item_id: str) -> str:
        """Such as "Kettle (12.5 A)"."""
        amps = next((load.amps for load in circuit.loads if load.item == item_id), 0.0)
        return f"{self.name(item_id)} ({amps_text(amps)})"

    def sets(self, circuit: Circuit, sets: Sequence[tuple[str, ...]]) -> str:
        """Such as "Kettle (12.5 A); or Grinder (3.4 A) and Till (0.2 A)"."""
        shown = [
            any_of([self.with_amps(circuit, one) for one in chosen], "and")
            for chosen in sets[:_SHOWN_SETS]
        ]
        if all(len(chosen) == 1 for chosen in sets):
            return any_of(shown)
        return "; or ".join(shown)

    def role(self, item_id: str) -> Load | None:
        """The load that an item is, or None."""
        item = self.items.get(item_id)
        role = item.specification.electrical if item is not None else None
        return role if isinstance(role, Load) else None

    def loads_of(self, circuit: Circuit) -> tuple[str, ...]:
        """All loads of a circuit, heaviest first."""
        return tuple(load.item for load in circuit.loads)

    def number(self, limit: Limit) -> Number | None:
        """Which number of the result a limit is; None for one that was made for the occasion."""
        if self._numbers is None:
            self._numbers = {id(one): number for number, one in limits_of(self.power)}
        return self._numbers.get(id(limit))

    def finding(
        self,
        severity: Severity,
        code: str,
        title: Phrase,
        detail: Phrase,
        items: Iterable[str],
        limit: Limit | None = None,
        runs: tuple[str, ...] = (),
        source: str = "",
        more: tuple[Phrase, ...] = (),
        number: Number | None = None,
    ) -> Finding:
        """Put a finding together; number, limit, source and working come from the limit."""
        return Finding(
            severity,
            f"power.{code}",
            title,
            detail,
            tuple(dict.fromkeys(items)),
            runs,
            None if limit is None else Value(limit.value, limit.dimension),
            None if limit is None else Value(limit.limit, limit.dimension),
            source or (limit.source if limit is not None else ""),
            (*(() if limit is None else limit.working), *more),
            number or (self.number(limit) if limit is not None else None),
        )

    def not_converged(self) -> Finding:
        """The sweep did not settle."""
        return self.finding(
            "care",
            "not-converged",
            Phrase("The power calculation did not settle"),
            Phrase(
                "Some cord is so long and thin that no steady voltage was found; amps and volts "
                "shown behind it are those of the last step. Use a thicker or shorter cord."
            ),
            (),
            source=PRACTICE,
        )
