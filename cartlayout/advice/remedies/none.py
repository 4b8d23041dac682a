"""Why nothing can be offered for some findings: only somebody else knows, or it is no fault."""

REASONS: dict[str, str] = {
    "power.circuit-assumed": "Only the venue knows its circuits and breakers; enter what it says.",
    "power.run-size-unknown": "Only the venue knows the wires in its walls.",
    "power.breakers-disagree": "Only the venue knows which breaker its circuit has.",
    "power.breaker-smaller": "Nothing is wrong with the cart; whoever plugs things in should know.",
    "power.unused-capacity": "It works as it is. A smaller supply is a matter of what venues have.",
    "power.receptacle-for-circuit": "The venue's electrician has to check the breaker and the "
    "receptacle; nothing on the cart changes it.",
    "power.no-nameplate": "Only its nameplate says what it takes; enter that.",
    "power.nameplate": "Only its nameplate and its maker can say which number is right.",
    "power.pump-table": "Only its maker can say which of the two numbers is right.",
    "power.charging": "Charge it while nothing else is on; the layout does not change that.",
    "power.fuel": "Bring more fuel, and let the engine cool before it is filled.",
    "power.starts-together": "Switch the motors off before power comes back, and on again one "
    "after another; no layout saves that.",
    "power.leakage-unknown": "Only the makers know what their appliances leak.",
    "power.shared": "Only the venue knows what others draw, and whether there is a circuit for "
    "the cart alone.",
    "power.transformer": "Take equipment that is made for the venue's voltage, or let a licensed "
    "electrician plan it: a layout cannot make a transformer safe.",
    "power.plug": "It takes more than its plug is made for: have both checked.",
    "body.height": "No level of the cart has room for it as things stand; it needs more height "
    "there, or lower equipment.",
    "power.total": "No plug moved and no usual circuit of the venue carries it: use less at once, "
    "or let a licensed electrician plan the supply.",
    "body.lift": "What weighs that much is lifted by two, or in parts; no place on the cart "
    "changes its weight.",
    "body.leaf-unrated": "Only its maker or builder knows what the leaf is good for; enter that.",
    "body.drip-shielded": "The board does it. Keep it without a hole there, for tubes as well.",
    "body.ramp-grade": "The ramp is the venue's: go up with two, or find a longer one.",
    "body.vehicle-grade": "The ramp belongs to the vehicle: go up with two, or find a longer one.",
    "body.push": "Push it with two, or take larger wheels; carrying parts in did not lighten it "
    "enough.",
    "body.ramp-push": "Go up with two; carrying parts in did not lighten it enough.",
    "body.vehicle-push": "Go up with two; carrying parts in did not lighten it enough.",
    "body.door": "It is the cart itself that is too large: find another way in.",
    "body.ramp": "It is the cart itself that is too large or too heavy: find another way in.",
    "body.vehicle": "It is the cart itself that is too large or too heavy: take another vehicle.",
}
"""Code to one plain sentence."""
