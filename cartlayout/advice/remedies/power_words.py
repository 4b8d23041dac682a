"""How remedies speak of circuits."""

from ...power.results import EVERYTHING_ON, Circuit
from ...units import Phrase, UnitSystem, show_pair


def carries(circuit: Circuit) -> Phrase:
    """What a circuit carries then, against its rating."""
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    return Phrase.of(
        "Circuit {letter} then carries {pair}",
        letter=circuit.letter,
        pair=show_pair(amps, circuit.rating_a, "current", UnitSystem.US, apart=False),
    )
