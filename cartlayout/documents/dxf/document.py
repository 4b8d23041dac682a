"""A whole DXF: plans and elevations beside each other, at their real size."""

import io
from collections.abc import Sequence
from dataclasses import dataclass

import ezdxf
from ezdxf import units
from ezdxf.document import Drawing

from ... import __version__
from ...units import UnitSystem
from ..caution import CAUTION
from ..elevation import VIEWS, View
from ..packet.content import Job
from ..sheet.drawing import scale_text
from ..sheet.elements import BODY, SMALL, TITLE
from .layers import layer_name, make_layers
from .plan import LevelPlan
from .plot import APP, DIMENSION_MM, DIMENSION_STYLE, STYLE, Plot, per_metre
from .sides import SideDrawing

FORMAT = "R2010"
FONT = "LiberationSans-Regular.ttf"
"""An open font; programs without it take one of their own."""
USUAL_DENOMINATOR = 10.0
_GAP_MM = 20.0
_GREY, _INK, _THIN = 8, 7, 18
_US_DECIMALS, _METRIC_DECIMALS = 4, 1
"""A sixteenth of an inch is 0.0625: a quarter shown with one decimal would read wrong."""
_NO_ZEROS_BEHIND = 8


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a DXF shows."""

    levels: tuple[str, ...]
    views: tuple[View, ...]


def everything(job: Job) -> Wanted:
    """The plan of every level, the highest first, and all four sides."""
    levels = sorted(job.build.cart.levels, key=lambda level: -level.height.si)
    return Wanted(tuple(level.name for level in levels), VIEWS)


def dxf_bytes(job: Job, wanted: Wanted | None = None, denominator: float | None = None) -> bytes:
    """A drawing for the shop. Needs a QGuiApplication for the widths of letters.

    Args:
        job: what is drawn. The units of the drawing are inches in the US, millimetres elsewhere.
        wanted: which plans and elevations; None: all.
        denominator: of the scale that texts, dimensions and dashes are sized for, when the drawing
            is printed; everything else is at its real size. None: 1:10.
    """
    return _written(make_dxf(job, wanted, denominator))


def make_dxf(job: Job, wanted: Wanted | None = None, denominator: float | None = None) -> Drawing:
    """The same as a document of the library."""
    shown = wanted or everything(job)
    scale = denominator or USUAL_DENOMINATOR
    doc = _new(job, scale)
    plans = [LevelPlan(job, level, scale) for level in shown.levels]
    sides = [SideDrawing(job, view, scale) for view in shown.views]
    gap_m = _GAP_MM * scale / 1000.0
    low = _row(doc, job, scale, plans, 0.0, gap_m)
    top = max((side.room[3] for side in sides), default=0.0)
    floor = low - gap_m - top if plans else 0.0
    low = _row(doc, job, scale, sides, floor, gap_m)
    _said(doc, job, scale, low - gap_m)
    doc.set_modelspace_vport(*_view(doc))
    return doc


def _row(
    doc: Drawing,
    job: Job,
    scale: float,
    drawings: Sequence[LevelPlan | SideDrawing],
    base_m: float,
    gap_m: float,
) -> float:
    """Drawings side by side, the first with its cart's left edge at 0; says how low they reach."""
    unit = per_metre(job.system)
    x, low = 0.0, base_m
    for at, one in enumerate(drawings):
        left, bottom, right, _ = one.room
        if at:
            x -= left
        plot = Plot(doc, doc.modelspace(), unit, scale, (x * unit, base_m * unit))
        one.put(plot)
        plot.group(layer_name(_key(one)), one.title)
        x += right + gap_m
        low = min(low, base_m + bottom)
    return low


def _key(drawing: LevelPlan | SideDrawing) -> str:
    if isinstance(drawing, LevelPlan):
        return f"PLAN-{drawing.level.upper()}"
    return f"ELEVATION-{drawing.view.upper()}"


def _new(job: Job, scale: float) -> Drawing:
    doc = ezdxf.new(FORMAT)
    unit = per_metre(job.system)
    is_us = job.system is UnitSystem.US
    doc.units = units.IN if is_us else units.MM
    doc.header["$MEASUREMENT"] = 0 if is_us else 1
    doc.header["$LUNITS"] = 2
    doc.header["$LUPREC"] = 4 if is_us else 1
    doc.appids.add(APP)
    doc.styles.add(STYLE, font=FONT)
    paper = scale * unit / 1000.0
    letters = [circuit.letter for circuit in job.analysis.power.circuits]
    levels = dict.fromkeys(
        [level.name for level in job.build.cart.levels] + [item.level for item in job.build.items]
    )
    make_layers(doc, levels, letters, paper)
    _dimension_style(doc, paper, is_us)
    return doc


def _dimension_style(doc: Drawing, paper: float, is_us: bool) -> None:
    """Sizes as seen on paper; slashes for arrows, as in drawings of buildings and fittings."""
    style = doc.dimstyles.add(DIMENSION_STYLE)
    style.dxf.dimtxsty = STYLE
    style.dxf.dimtxt = DIMENSION_MM * paper
    style.dxf.dimtsz = 1.0 * paper
    style.dxf.dimasz = 1.5 * paper
    style.dxf.dimexo = 0.8 * paper
    style.dxf.dimexe = 1.0 * paper
    style.dxf.dimgap = 0.7 * paper
    style.dxf.dimtad = 1
    style.dxf.dimdec = _US_DECIMALS if is_us else _METRIC_DECIMALS
    style.dxf.dimzin = _NO_ZEROS_BEHIND
    style.dxf.dimdsep = ord(".")
    style.dxf.dimclrd = style.dxf.dimclre = _GREY
    style.dxf.dimclrt = _INK
    style.dxf.dimpost = "<> in" if is_us else "<> mm"
    style.dxf.dimlwd = style.dxf.dimlwe = _THIN
    style.dxf.dimscale = 1.0
    style.dxf.dimlfac = 1.0


def _said(doc: Drawing, job: Job, scale: float, top_m: float) -> None:
    """What the drawing is, and the caution, under everything."""
    unit = per_metre(job.system)
    plot = Plot(doc, doc.modelspace(), unit, scale, (0.0, top_m * unit))
    build = job.build
    facts = [
        ("Date", job.date.isoformat()),
        ("Revision", build.revision),
        ("Designer", build.designer),
        ("Venue", build.venue.name),
        ("File", job.file),
        ("Units", "inches, 1:1" if job.system is UnitSystem.US else "millimetres, 1:1"),
        ("Texts sized for", scale_text(scale, job.system)),
    ]
    lines = [
        (build.name or "Unnamed cart", TITLE),
        (" · ".join(f"{name}: {value}" for name, value in facts if value), SMALL),
        (
            "Bodies are boxes of their outer size; wheels and handles are signs of where they are. "
            "Dotted runs are hidden or on another level. Measure before you cut.",
            SMALL,
        ),
        (CAUTION, BODY),
        (f"cartlayout {__version__}", SMALL),
    ]
    y = 0.0
    for text, size in lines:
        y -= size * 1.6 * scale / 1000.0
        plot.text(0.0, y, text, size)
    plot.group("NOTES", "what the drawing is")


def _view(doc: Drawing) -> tuple[float, tuple[float, float]]:
    """Height and middle of what is shown when the file is opened."""
    from ezdxf import bbox

    around = bbox.extents(doc.modelspace(), fast=True)
    if not around.has_data:
        return 1.0, (0.0, 0.0)
    return max(around.size.y, around.size.x * 0.6) * 1.05, (around.center.x, around.center.y)


def _written(doc: Drawing) -> bytes:
    stream = io.StringIO()
    doc.write(stream)
    return doc.encode(stream.getvalue())
