"""Putting stock on a cart."""

from msgspec.structs import replace

from ..build import VENUE, Build, End, Load, Port, Region, Run, Specification
from ..build.edits import add_run, free_id, place, replace_item
from ..limits import power_connector, profile
from .entries import StockEntry
from .labels import short_label
from .trays import on_a_tray


def placed(
    build: Build, entry: StockEntry, level: str, x_m: float, y_m: float
) -> tuple[Build, tuple[str, ...]]:
    """Put an entry on a level, its middle at (x, y); a module as one group with its runs.

    A module stands on a tray and is carried in and out by hand: it does not travel on the cart.
    What belongs to the venue goes to the venue, whatever level is asked for.
    Appliances come with the plug of the build's region.
    Returns the build and the ids of the new items, in the order of the entry, the tray last.

    Raises:
        EditError: the cart has no such level.
    """
    if entry.stands == "venue":
        level = VENUE
    new_ids: dict[str, str] = {}
    group = free_id(build, entry.key, _groups(build)) if entry.is_module else None
    for one in entry.items:
        specification = one.specification
        if build.region in entry.regions:
            specification = with_plug_of(specification, build.region)
        build, item_id = place(
            build,
            specification,
            level,
            x_m + one.dx.si,
            y_m + one.dy.si,
            short_label(build, one.label or specification.name),
        )
        new_ids[one.id] = item_id
        item = build.item(item_id)
        if item is None:  # it has just been placed
            raise KeyError(item_id)
        item = replace(
            item,
            rotation=one.rotation,
            raised=one.raised,
            group=group,
            travels=not entry.is_module,
        )
        build = replace_item(build, item)
    for run in entry.runs:
        build = add_run(build, _renamed(build, run, new_ids))
    if group is None or level == VENUE:
        return build, tuple(new_ids.values())
    build, tray = on_a_tray(build, new_ids.values(), group)
    return build, (*new_ids.values(), tray)


def with_plug_of(specification: Specification, region: Region) -> Specification:
    """The same appliance with the plug that it is sold with in a region.

    Nothing changes where its plug is at home there, or where the region's
    tables have no plug for its volts and amps.
    """
    load = specification.electrical
    if not isinstance(load, Load) or load.hardwired:
        return specification
    ports = tuple(_sold_in(port, load, region) for port in specification.ports)
    if ports == specification.ports:
        return specification
    return replace(specification, ports=ports)


def _sold_in(port: Port, load: Load, region: Region) -> Port:
    connector = power_connector(port.connector) if port.medium == "power" else None
    if port.direction != "in" or connector is None or region in connector.regions:
        return port
    row = profile(region).default_connector(load.voltage.si, _amps(load))
    return port if row is None else replace(port, connector=row.plug)


def _amps(load: Load) -> float:
    if load.current is not None:
        return load.current.si
    if load.power is None or not load.voltage.si or not load.power_factor:
        return 0.0
    return load.power.si / load.voltage.si / load.power_factor


def _renamed(build: Build, run: Run, new_ids: dict[str, str]) -> Run:
    return replace(
        run,
        id=free_id(build, run.id),
        a=_end(run.a, new_ids),
        b=_end(run.b, new_ids) if run.b is not None else None,
    )


def _end(end: End, new_ids: dict[str, str]) -> End:
    return End(item=new_ids[end.item], port=end.port)


def _groups(build: Build) -> set[str]:
    return {item.group for item in build.items if item.group is not None}
