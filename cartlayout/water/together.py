"""Who robs whom: what a tap is left with while others on its line are open as well."""

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from .hydraulics import Key
from .model import TapPlace
from .results import ALL_OPEN
from .supply_results import Robbed, Robber, pair
from .tap_state import Left

Taps = frozenset[Key]

_LEAST_FALL_PA = 2e3
"""0.02 bar: no gauge of a cart shows less."""
_LEAST_SHARE = 0.01
"""Of a flow."""
_MOST_PAIRS = 150
"""About so many are tried on one line. Up to 12 taps these are all; of more, each tap with those
that draw most."""
_ALL_TAPS = 12


_ALIKE_FALL = -1
"""Falls are told apart to 10 Pa: a pump that cycles leaves the same with either of two taps, and
which comes first must not hang on the last digit of a solution."""


def _harm(one: Robbed) -> tuple[bool, int, float, float, str]:
    fall_pa = round(one.fall_pa, _ALIKE_FALL)
    return (not one.fails, len(one.by) * one.fails, -fall_pa, round(one.flow, 8), one.case)


@dataclass(frozen=True, slots=True)
class Together:
    """What the taps of one line do to each other."""

    pairs: tuple[tuple[str, Taps], ...] = ()
    robbed: tuple[Robbed, ...] = ()


class Meeting:
    """The taps of one line, with a way to ask for any of them in any company."""

    def __init__(
        self,
        taps: Sequence[TapPlace],
        state: Callable[[TapPlace, Taps], Left],
        steady: Callable[[Taps], bool],
    ) -> None:
        """Take the taps of one line.

        Args:
            taps: that are fed, by the names they have in the whole build.
            state: what is left for a tap with some taps open.
            steady: whether the sources give their least with these taps open, as they do with
                fewer: pumps go on and off, and are judged at cut-in. Only then is a tap that
                keeps its pressure among many sure to keep it among few.
        """
        self.taps = list(taps)
        self.steady = steady
        self._state = state
        self._order = {tap.node: at for at, tap in enumerate(self.taps)}
        self._known: dict[tuple[Key, Taps], Left] = {}

    def state(self, tap: TapPlace, opened: Taps) -> Left:
        """A tap with some open."""
        found = self._known.get((tap.node, opened))
        if found is None:
            found = self._known[tap.node, opened] = self._state(tap, opened)
        return found

    def alone(self, tap: TapPlace) -> Left:
        """A tap with no other open."""
        return self.state(tap, frozenset({tap.node}))

    def told(self, cases: Sequence[tuple[str, Taps]]) -> Together:
        """Every tap against every other, and in every case that opens several.

        Args:
            cases: name and open taps of this line, everything open among them.
        """
        if len(self.taps) < 2:
            return Together()
        pairs: list[tuple[str, Taps]] = [
            (pair(a.name, b.name), frozenset({a.node, b.node})) for a, b in self._pairs()
        ]
        several = [one for one in cases if len(one[1]) > 1]
        asked = dict.fromkeys(opened for _, opened in (*pairs, *several))
        own = [one for one in several if one[0] != ALL_OPEN]
        # A case of the person's goes by its own name, two taps by theirs.
        names = {opened: name for name, opened in (*several, *pairs, *own)}
        found: list[Robbed] = []
        for tap in self.taps:
            mine = [
                one
                for opened in asked
                if tap.node in opened
                and (one := self._robbed(tap, opened, names[opened])) is not None
            ]
            if any(one.fails for one in mine) and not any(
                one.fails and len(one.by) == 1 for one in mine
            ):
                mine += self._fewest(tap, mine, pairs)
            # Fewest robbers first among those that do harm, then whoever takes most.
            mine.sort(key=_harm)
            found += mine
        return Together(tuple(pairs), tuple(found))

    def _pairs(self) -> Iterator[tuple[TapPlace, TapPlace]]:
        everything = frozenset(tap.node for tap in self.taps)
        if self.steady(everything):
            # Each more that opens takes a little more.
            moved = [tap for tap in self.taps if self._is_less(tap, everything)]
        else:
            moved = self.taps
        hungry = self.taps
        if len(hungry) > _ALL_TAPS:
            most = max(_MOST_PAIRS // len(hungry), 1)
            hungry = sorted(hungry, key=lambda tap: -self.alone(tap).flow)[:most]
        among = {tap.node for tap in hungry}
        suffers = {tap.node for tap in moved}
        for a, b in itertools.combinations(self.taps, 2):
            if (a.node in suffers or b.node in suffers) and (a.node in among or b.node in among):
                yield a, b

    def _is_less(self, tap: TapPlace, opened: Taps) -> bool:
        alone, now = self.alone(tap), self.state(tap, opened)
        return now.lowest_pa < alone.lowest_pa - _LEAST_FALL_PA or now.flow < alone.flow * (
            1.0 - _LEAST_SHARE
        )

    def _robbed(self, tap: TapPlace, opened: Taps, case: str) -> Robbed | None:
        alone, now = self.alone(tap), self.state(tap, opened)
        fails = alone.suffices and not now.suffices
        if not (fails or self._is_less(tap, opened)):
            return None
        others = [other for other in self.taps if other.node in opened and other is not tap]
        others.sort(key=lambda one: (-self.state(one, opened).flow, self._order[one.node]))
        return Robbed(
            item=tap.item.id,
            port=tap.inlet.port,
            name=tap.name,
            by=tuple(Robber(one.item.id, one.inlet.port, one.name) for one in others),
            case=case,
            alone_pa=alone.lowest_pa,
            pressure_pa=now.lowest_pa,
            alone_flow=alone.flow,
            flow=now.flow,
            fails=fails,
            pressure_ok=now.enough,
            flow_ok=now.flow_ok,
        )

    def _fewest(
        self, tap: TapPlace, found: list[Robbed], pairs: list[tuple[str, Taps]]
    ) -> Iterator[Robbed]:
        """Where no single other tap is enough to starve one: the fewest that are.

        Those that draw most are added until it starves, then those left out that are not needed.
        """
        worst = min((one for one in found if one.fails), key=lambda one: len(one.by))
        by_id = {(one.item.id, one.inlet.port): one for one in self.taps}
        others = [by_id[one.item, one.port] for one in worst.by]
        chosen: list[TapPlace] = []
        for one in others:
            chosen.append(one)
            if self._starves(tap, chosen):
                break
        for one in tuple(chosen):
            fewer = [other for other in chosen if other is not one]
            if len(fewer) > 1 and self._starves(tap, fewer):
                chosen = fewer
        opened = frozenset({tap.node, *(one.node for one in chosen)})
        if len(chosen) < len(worst.by):
            name = pair(tap.name, " and ".join(one.name for one in chosen))
            told = self._robbed(tap, opened, name)
            if told is not None and told.fails:
                pairs.append((name, opened))
                yield told

    def _starves(self, tap: TapPlace, others: Sequence[TapPlace]) -> bool:
        now = self.state(tap, frozenset({tap.node, *(one.node for one in others)}))
        return not now.suffices
