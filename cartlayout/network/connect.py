"""Running wires and tubes: the right sort, the right way round."""

from msgspec.structs import replace

from ..build import Build, End, Heater, Tube, TubeRun, Wire
from ..build.edits import EditError, add_run, free_id, replace_run
from ..limits import TubeRow, material, tube_row, tubes_between
from .fit import Fitter, is_plug


def connect(build: Build, a: End, b: End) -> tuple[Build, str]:
    """Join two ports by a wire or a tube of a fitting sort. Returns the build and the run's id.

    A plug that is in a receptacle already is moved. Wires take the cord of
    their plug; tubes the sort nearest in bore to the ports, their length from
    the route.

    Raises:
        EditError: the ports do not fit; the message says why.
    """
    fitter = Fitter(build)
    fit = fitter.fits(a, b)
    if not fit.ok:
        raise EditError(f"These two cannot be joined: {fit.reason}.")
    first, second = fitter.places.ports[a.item, a.port], fitter.places.ports[b.item, b.port]
    if first.medium == "power":
        plug, receptacle = (a, b) if is_plug(first) else (b, a)
        wire = next((one for one in build.wires if plug in (one.a, one.b)), None)
        if wire is not None:
            return replug(build, wire.id, receptacle), wire.id
        made = Wire(id=free_id(build, f"{plug.item}-wire"), a=plug, b=receptacle)
        return add_run(build, made), made.id
    if first.direction == "in" or second.direction == "out":
        a, b, first, second = b, a, second, first
    warm_k = _warmed_to(build, a)
    row = best_tube(build, first.connector, second.connector, first.medium, warm_k)
    kind = "drain" if first.medium == "drain" else "tube"
    tube = TubeRun(id=free_id(build, f"{a.item}-{kind}"), a=a, b=b, tube=tube_from(row))
    return add_run(build, tube), tube.id


def _warmed_to(build: Build, end: End) -> float | None:
    """Temperature [K] of the water that leaves a heater by this end; None anywhere else."""
    item = build.item(end.item)
    role = item.specification.water if item is not None else None
    port = item.specification.port(end.port) if item is not None else None
    heats = isinstance(role, Heater) and port is not None and port.direction == "out"
    return role.outlet.si if heats and isinstance(role, Heater) else None


def best_tube(
    build: Build, connector_a: str, connector_b: str, medium: str, warm_k: float | None = None
) -> TubeRow:
    """The tube to take between two connectors: nearest in bore, in the build's own sizes.

    Behind a heater one that is made for water so warm [K], where there is one.

    Raises:
        EditError: none fits both.
    """
    rows = tubes_between(connector_a, connector_b, medium)
    if not rows:
        raise EditError(f"No tube fits both {connector_a} and {connector_b}.")
    if warm_k is None:
        return rows[0]
    return next((row for row in rows if _bears(row, warm_k)), rows[0])


def _bears(row: TubeRow, temperature_k: float) -> bool:
    return row.rated_pa(temperature_k) is not None and not material(row.material).cold_only


def tube_from(row: TubeRow) -> Tube:
    """Copy a row of the tube table into a build."""
    return Tube(
        name=row.name,
        outer=row.outer,
        bore=row.bore,
        material=row.material,
        roughness=row.roughness,
        rating=row.rating,
        rating_at=row.rating_at,
        potable=row.potable,
        least_bend_radius=row.least_bend_radius,
        warm_rating=row.warm_rating,
        warm_rating_at=row.warm_rating_at,
        elastic_modulus=material(row.material).elastic_modulus,
    )


def tube_named(name: str) -> Tube:
    """The tube of that name from the table.

    Raises:
        EditError: there is none.
    """
    row = tube_row(name)
    if row is None:
        raise EditError(f"there is no tube '{name}' in the tables")
    return tube_from(row)


def replug(build: Build, wire_id: str, receptacle: End) -> Build:
    """Put the plug of a wire into another receptacle.

    Raises:
        EditError: there is no such wire, or the plug does not go in; the message says why.
    """
    wire = build.run(wire_id)
    if not isinstance(wire, Wire):
        raise EditError(f"there is no wire '{wire_id}'")
    fitter = Fitter(build)
    plug = plug_end(fitter, wire)
    if plug is None:
        raise EditError("This wire has no plug.")
    fit = fitter.fits(plug, receptacle, moving=wire_id)
    if not fit.ok:
        raise EditError(f"The plug does not go there: {fit.reason}.")
    return replace_run(build, replace(wire, a=plug, b=receptacle, waypoints=()))


def plug_end(fitter: Fitter, wire: Wire) -> End | None:
    """The end of a wire that is a plug."""
    for end in (wire.a, wire.b):
        node = fitter.places.known(end)
        if end is not None and node is not None and is_plug(fitter.places.ports[node]):
            return end
    return None


def free_receptacles(build: Build, plug: End) -> tuple[End, ...]:
    """Receptacles that this plug could go into now, nearest first."""
    fitter = Fitter(build)
    node = fitter.places.known(plug)
    if node is None:
        return ()
    here = fitter.places.positions[node]

    def away(end: End) -> float:
        there = fitter.places.positions[end.item, end.port]
        return sum(abs(p - q) for p, q in zip(here, there, strict=True))

    ends = (End(item=item, port=port) for item, port in fitter.places.ports)
    return tuple(sorted((end for end in ends if fitter.fits(plug, end).ok), key=away))
