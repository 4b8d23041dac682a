"""Whether the breaker before a cord would trip before the cord gets too hot.

What a cord carries is held against its ampacity elsewhere. This asks what happens when more is
plugged in than was planned: then only the breaker stands between the cord and a fire. The cord of
an appliance, and that of a listed strip, counts as protected by its listing; one to a box, and an
extension cord, does not.
"""

from collections.abc import Iterator

from ..build import Box, Build, Extension
from ..limits import CordRating, Profile, power_connector
from ..limits.cord_protection import cord_protection
from ..units import Phrase
from .limits_check import holds
from .placed import PlacedWire, PowerTree
from .results import Limit
from .working import amps


def protection_limit(
    build: Build, tree: PowerTree, placed: PlacedWire, rating: CordRating, profile: Profile
) -> Iterator[tuple[str, Limit]]:
    """(run id, limit) of the cord of a box or of an extension cord."""
    role = placed.plug[0].specification.electrical
    draft = tree.draft(placed.circuit)
    if not isinstance(role, (Box, Extension)) or draft is None or placed.cord is None:
        return
    if draft.key.endswith("/inverter") or draft.rating_a <= 0.0:
        return  # electronics limit an inverter, and nobody says how
    rule = cord_protection(profile.region)
    before_a, what = draft.rating_a, "breaker"
    plug = power_connector(placed.plug[1].connector)
    if plug is not None and plug.key in rule.fused_plugs and plug.amps is not None:
        before_a, what = min(before_a, plug.amps), "fuse in its plug"
    small = isinstance(role, Extension) and rule.is_small(before_a, placed.cord.size)
    yield (
        placed.wire.id,
        Limit(
            "cord protection",
            before_a,
            rating.amps,
            "current",
            rule.small_rule if small else rule.rule,
            rule.small_source if small else rule.citation,
            small or holds(before_a, rating.amps),
            draft.assumed,
            (
                Phrase.of(
                    "{what}: {before}; cord: {rating}",
                    what=what,
                    before=amps(before_a),
                    rating=rating.working,
                ),
            ),
            (placed.plug[0].id,),
            run=placed.wire.id,
        ),
    )
