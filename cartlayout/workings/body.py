"""Which module knows the working of which numbers of the cart as a body, and of its runs."""

from . import body_mass, body_move, body_stand, body_use, network_runs
from .subjects import Subject

BODY: dict[str, Subject] = {
    "balance": Subject(body_mass.working, body_mass.numbers),
    "contents": Subject(body_mass.contents_working, body_mass.contents_numbers),
    "tilt": Subject(body_stand.tilt_working, body_stand.tilt_numbers),
    "foot": Subject(body_stand.foot_working, body_stand.foot_numbers),
    "travel": Subject(body_move.travel_working, body_move.travel_numbers),
    "push": Subject(body_move.push_working, body_move.push_numbers),
    "passage": Subject(body_move.passage_working, body_move.passage_numbers),
    "lift": Subject(body_use.lift_working, body_use.lift_numbers),
    "leaf": Subject(body_use.leaf_working, body_use.leaf_numbers),
    "reach": Subject(body_use.reach_working, body_use.reach_numbers),
    "clearance": Subject(body_use.clearance_working, body_use.clearance_numbers),
    "clash": Subject(body_use.clash_working, body_use.measured_numbers),
    "level": Subject(body_use.level_working, body_use.level_numbers),
    "run": Subject(network_runs.working, network_runs.numbers),
}
"""By `Number.subject`, in the order in which a sheet tells them."""
