"""The clearance and the weight overlay in the window: there while asked, following a drag."""

from plan_cart import small_cart

from cartlayout.ui.plan.body_layers import Z_OVER, Z_WEIGHT


def test_they_are_off_until_asked_for_and_go_again(hand):
    scene, session = hand.view.plan, hand.session
    assert scene.layers.mirrors == {}
    for name in ("clearance", "weight"):
        session.set_overlay(name, True)
    hand.settle()
    assert set(scene.layers.mirrors) == {"spaces", "over", "weight"}
    hand.view.grab()
    assert all(mirror.painted for mirror in scene.layers.mirrors.values())
    for name in ("clearance", "weight"):
        session.set_overlay(name, False)
    hand.settle()
    assert scene.layers.mirrors == {}
    assert not [item for item in scene.items() if item.zValue() in (Z_OVER, Z_WEIGHT)]


def test_the_centre_of_gravity_follows_a_drag_and_its_undo(show_plan):
    hand = show_plan(small_cart())
    session = hand.session
    session.set_overlay("weight", True)
    hand.settle()

    def centre():
        overlay = hand.view.plan.picture.weight
        return next(one.at for one in overlay.centres if one.role == "now")

    body = max(
        (one for one in hand.view.plan.picture.bodies if not one.ghosted and not one.venue),
        key=lambda one: session.build.item(one.id).specification.mass.si,
    )
    before = centre()
    x, y = body.centre
    hand.start((x, y), (x + 60.0, y))
    during = centre()
    assert during[0] > before[0]
    hand.release((x + 60.0, y))
    session.undo_stack.undo()
    hand.settle()
    assert centre() == before
