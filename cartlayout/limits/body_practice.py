"""What a body can be asked of, whatever the region: reach, lifting, pushing, standing, rolling."""

from functools import cache
from typing import Literal

from .profiles import Setting
from .rows import Row, Sourced
from .tables import read_table

_FILE = "body_practice.json"


class CasterRule(Sourced, frozen=True):
    """How much of a cart's mass one caster must be good for."""

    key: Literal["thirds", "one less", "equal give"]
    name: str
    rule: str


class BodyPractice(Row, frozen=True):
    """Advice and limits for the cart's body, each with its source."""

    reach_easy_m: Setting[float]
    reach_limit_m: Setting[float]
    lift_kg: Setting[float]
    carried_full_up_to_m3: Setting[float]
    """A vessel up to this volume is carried full; a larger one is filled where it stands."""
    drip_margin_m: Setting[float]
    """How far beside its body water may fall."""
    wall_gap_m: Setting[float]
    """What hangs on a panel touches it, but for brackets of this depth."""
    push_start_n: Setting[float]
    push_roll_n: Setting[float]
    push_far_n: Setting[float]
    push_far_m: Setting[float]
    """Farther than this, `push_far_n` holds instead of `push_roll_n`."""
    starting_share: Setting[float]
    """Of the weight, to set the wheels going."""
    rolling_share: Setting[float]
    """Of the weight, to keep them going."""
    floor_grade: Setting[float]
    """Rise over run of the steepest floor that still counts as one."""
    ramp_grade: Setting[float]
    counter_height_m: Setting[float]
    tilt_heated_degrees: Setting[float]
    caster_rules: tuple[CasterRule, ...]

    def caster_rule(self, key: str) -> CasterRule:
        """The rule of that key.

        Raises:
            KeyError: the table has no such rule.
        """
        for rule in self.caster_rules:
            if rule.key == key:
                return rule
        raise KeyError(key)


@cache
def body_practice() -> BodyPractice:
    """Return the advice and limits for the cart's body."""
    return read_table(_FILE, BodyPractice)
