"""Editors for fields whose values come from elsewhere in the build, or from a table."""

from collections.abc import Callable
from functools import partial

import msgspec
from PySide6.QtWidgets import QCheckBox, QSizePolicy, QVBoxLayout

from ...build import (
    VENUE,
    Branch,
    Build,
    Inlet,
    Item,
    Load,
    OperatingCase,
    PipeFitting,
    Port,
    PortLoss,
    Specification,
    Zone,
)
from ...build.water import Appliance
from ...limits import fittings, power_connector, power_connectors, water_connectors
from ...stock import SYMBOLS
from .. import widgets
from .editors import Special
from .fields import ChoiceField, Editor, TextField
from .kinds import FieldInfo

Choices = tuple[tuple[object, str], ...]
_LEGS: Choices = (
    (("L",), "L to N"),
    (("L1",), "L1 to N"),
    (("L2",), "L2 to N"),
    (("L1", "L2"), "L1 to L2"),
)


class PickField(Editor):
    """Some of several, each with a box to tick."""

    inline = False

    def __init__(self, choices: tuple[tuple[str, str], ...], value: tuple[str, ...]) -> None:
        super().__init__()
        self._value = value
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        known = {one for one, _ in choices}
        choices = (*choices, *((one, one) for one in value if one not in known))
        self.boxes: dict[str, QCheckBox] = {}
        for one, words in choices:
            box = QCheckBox(words)
            box.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            box.setChecked(one in value)
            box.clicked.connect(self._clicked)
            self.boxes[one] = box
            column.addWidget(box)
        if not choices:
            column.addWidget(widgets.wrapped("nothing to choose from", "muted"))

    def show_value(self, value: object) -> None:
        if isinstance(value, tuple):
            self._value = value
            for one, box in self.boxes.items():
                box.setChecked(one in value)

    def _clicked(self) -> None:
        self._value = tuple(one for one, box in self.boxes.items() if box.isChecked())
        self.edited.emit(self._value, "")


def special_for(build: Build, item: Item | None = None) -> Special:
    """Editors for the fields of a build, or of one item of it."""
    return partial(_special, _makers(build, item))


Maker = Callable[[object], Editor]


def _special(
    makers: dict[tuple[str, str], Maker],
    owner: type[msgspec.Struct],
    info: FieldInfo,
    value: object,
) -> Editor | None:
    maker = makers.get((owner.__name__, info.name))
    return maker(value) if maker is not None else None


def _makers(build: Build, item: Item | None) -> dict[tuple[str, str], Maker]:
    levels: Choices = tuple((one.name, one.name.capitalize()) for one in build.cart.levels)
    specification = item.specification if item is not None else None
    ports = _ports(specification)
    power_ports = _ports(specification, "power")
    loads = tuple(
        (one.id, one.name) for one in build.items if isinstance(one.specification.electrical, Load)
    )
    taps = tuple(
        (one.id, one.name) for one in build.items if isinstance(one.specification.water, Appliance)
    )
    hint = specification.name if specification is not None else ""
    makers: dict[tuple[str, str], Maker] = {
        (Item.__name__, "label"): partial(_text, hint),
        (Item.__name__, "level"): partial(_choice, (*levels, (VENUE, "Venue"))),
        (Zone.__name__, "level"): partial(_choice, levels),
        (Port.__name__, "connector"): _connector,
        (Specification.__name__, "symbol"): partial(
            _choice, tuple((one, one.replace("-", " ")) for one in SYMBOLS)
        ),
        (Branch.__name__, "legs"): partial(_choice, _LEGS),
        (Branch.__name__, "ports"): partial(_pick, power_ports),
        (Inlet.__name__, "port"): partial(_choice, ports),
        (PortLoss.__name__, "port"): partial(_choice, ports),
        (OperatingCase.__name__, "loads"): partial(_pick, loads),
        (OperatingCase.__name__, "taps"): partial(_pick, taps),
        (PipeFitting.__name__, "name"): partial(
            _choice, tuple((one.name, one.name) for one in fittings())
        ),
    }
    return makers


def _ports(specification: Specification | None, medium: str = "") -> tuple[tuple[str, str], ...]:
    if specification is None:
        return ()
    return tuple(
        (port.id, f"{port.id} ({port.connector})")
        for port in specification.ports
        if not medium or port.medium == medium
    )


def _text(hint: str, value: object) -> Editor:
    return TextField(str(value), hint=hint)


def _choice(choices: Choices, value: object) -> Editor:
    return ChoiceField(choices, value)


def _pick(choices: tuple[tuple[str, str], ...], value: object) -> Editor:
    return PickField(choices, value if isinstance(value, tuple) else ())


def _connector(value: object) -> Editor:
    """Connectors of the medium that the port has now."""
    if power_connector(str(value)) is not None:
        return ChoiceField(tuple((one.key, one.key) for one in power_connectors()), value)
    return ChoiceField(tuple((one.key, one.key) for one in water_connectors()), value)
