"""Ways of wires and tubes: square, around what stands in the way, each on its level.

`terms` says where runs begin and what they lie on, `bodies` and `ground` what they meet,
`lattice` is the graph that is searched, `search` finds one way, `waypoints` follows a person's
own, `bends` measures what came of it.
"""
