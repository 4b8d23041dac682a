"""What to say about pumps whose maker's table asks for more than their nameplate."""

from collections.abc import Iterator

from ..build import Pump
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from .finding import Finding
from .power_words import PowerWords


def rules(words: PowerWords) -> Iterator[Finding]:
    """Nameplates that a table of currents contradicts."""
    for item_id, (table_w, nameplate_w) in words.power.above_nameplate.items():
        item = words.build.item(item_id)
        role = item.specification.water if item is not None else None
        if item is None or not isinstance(role, Pump):
            continue
        table, nameplate = Value(table_w, "power"), Value(nameplate_w, "power")
        efficiency = water_practice().adapter_efficiency
        working: tuple[Phrase, ...] = ()
        if role.voltage is not None:
            working = (
                Phrase.of(
                    "{table} at the plug: greatest current of the table where it works, at "
                    "{volts}; behind an adapter {share} of what it takes comes through",
                    table=table,
                    volts=Value(role.voltage.si, "voltage"),
                    share=Value(efficiency.value, "percent", 0),
                ),
            )
        yield Finding(
            "care",
            "power.pump-table",
            Phrase.of(
                "{pump} takes {table} by its maker's table, {nameplate} by its nameplate",
                pump=item.name,
                table=table,
                nameplate=nameplate,
            ),
            Phrase.of(
                "The table is for the pressure it works at, and counts here. Correct the one that "
                "is wrong, or set its switch lower."
            ),
            (item_id,),
            value=table,
            limit=nameplate,
            source=efficiency.citation,
            working=working,
        )
