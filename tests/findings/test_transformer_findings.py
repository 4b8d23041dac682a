"""Transformers are refused, and the reason is said."""

from building import build, load, outlet
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import End
from cartlayout.network import connect
from cartlayout.stock import entry, placed
from cartlayout.units import UnitSystem


def test_what_hangs_on_a_transformer_is_not_worked_out():
    """Common practice, no source: a heater behind a transformer is an electrician's business."""
    heater = load("kettle", watts=1200, volts=230, plug="CEE 7/7 P")
    made = build(heater, outlet("wall"))
    made, (item_id,) = placed(made, entry("transformer-120-230"), "shelf", 0.5, 0.3)
    made, _ = connect(made, End(item=item_id, port="plug"), End(item="wall", port="1"))
    made, _ = connect(made, End(item="kettle", port="plug"), End(item=item_id, port="1"))
    analysis = analyse(made)
    told = next(one for one in analysis.findings if one.code == "power.transformer")
    assert told.severity == "stop"
    assert told.items[0] == item_id
    text = told.text(UnitSystem.US)
    assert "120 V to 230 V" in text
    assert "licensed electrician" in text
    assert not analysis.power.appliances["kettle"]["Everything on"].fed


def test_three_phases_of_a_hall_from_stock():
    """208Y/120: each leg to neutral gives 120 V (208 / sqrt 3), whatever box hangs on it."""
    made = build(load("kettle", watts=1200))
    made, (wall,) = placed(made, entry("outlet-30-208y"), "venue", 0.5, -0.4)
    made, (box,) = placed(made, entry("box-30-208y"), "shelf", 0.8, 0.3)
    made, _ = connect(made, End(item=box, port="feed"), End(item=wall, port="1"))
    made, _ = connect(made, End(item="kettle", port="plug"), End(item=box, port="2a"))
    made = replace(made, region="US")
    state = analyse(made).power.appliances["kettle"]["Everything on"]
    assert 119.0 < state.volts < 120.2
    circuit = analyse(made).power.circuit_of("kettle")
    assert circuit.legs == ("L2",)
