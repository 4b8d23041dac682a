"""How high each supply tube goes with everything shut.

The pumps stand at cut-out, the mains at their greatest, regulators at their set point and what
they creep above it. A check valve holds what it ever let through, and nothing upstream of it was
ever higher than this: so behind it stands the same, its cracking pressure not taken off.
"""

from collections.abc import Iterable, Iterator, Mapping

from ..build import TubeRun
from .hydraulics import Key
from .model import Model
from .rating import is_too_hot, rating_pa
from .supply_results import TubeStatic


def tube_statics(
    model: Model, tubes: Iterable[TubeRun], pressures_pa: Mapping[Key, float]
) -> Iterator[TubeStatic]:
    """What every tube that is fed sees at rest, and what it may see at its temperature.

    Args:
        model: says how warm the water in each tube is.
        tubes: of the model.
        pressures_pa: by node, with everything shut and every source at its greatest.
    """
    for run in tubes:
        if run.b is None:
            continue
        ends = [pressures_pa.get((end.item, end.port)) for end in (run.a, run.b)]
        a_pa, b_pa = ends
        if a_pa is None or b_pa is None:
            continue
        temperature_k = model.temperatures_k.get(run.id, model.temperature_k)
        yield TubeStatic(
            run=run.id,
            a_pa=a_pa,
            b_pa=b_pa,
            temperature_k=temperature_k,
            rating_pa=rating_pa(run.tube, temperature_k),
            too_hot=is_too_hot(run.tube, temperature_k),
        )
