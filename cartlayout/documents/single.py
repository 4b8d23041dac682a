"""One plan or elevation as a file at a scale: PNG, SVG, PDF, or DXF at its real size."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal, cast, get_args

from ..build import Build
from ..build.file import write_atomically
from .devices import (
    LEAST_DPI,
    MOST_DPI,
    ExportCancelledError,
    ExportError,
    pdf_bytes,
    png_bytes,
    svg_bytes,
)
from .elevation import VIEWS, View
from .export import application
from .fonts import FontError
from .packet.content import Content, Job
from .packet.pages import Page, lay_out
from .packet.sheets.elevations import elevation_content
from .packet.sheets.plans import plan_content
from .plan.symbols import SymbolError
from .sheet.drawing import ScaleError

SingleView = Literal["plan", "front", "rear", "left", "right"]
SINGLE_VIEWS: tuple[SingleView, ...] = get_args(SingleView)
Ending = Literal["png", "svg", "pdf", "dxf"]
ENDINGS: tuple[Ending, ...] = get_args(Ending)
LEAST_DENOMINATOR, MOST_DENOMINATOR = 1.0, 1000.0


@dataclass(frozen=True, slots=True)
class Single:
    """What is to be drawn."""

    view: SingleView | None = None
    """None: in a DXF everything, elsewhere the plan."""
    level: str | None = None
    """Of a plan; None: in a DXF all levels, elsewhere the cart's first."""
    denominator: float | None = None
    """Of the scale, 10 for 1:10; None: the largest that fits. Texts of a DXF are sized for it."""
    dpi: int = 300


def denominator_of(text: str) -> float:
    """Read a scale such as "1:10".

    Raises:
        ValueError: it is none; the message says what would be.
    """
    found = re.fullmatch(r"\s*1\s*[:/]\s*(\d+(?:\.\d+)?)\s*", text)
    denominator = float(found[1]) if found else 0.0
    if not LEAST_DENOMINATOR <= denominator <= MOST_DENOMINATOR:
        raise ValueError(
            f"'{text}' is no scale from 1:{LEAST_DENOMINATOR:g} to 1:{MOST_DENOMINATOR:g}, "
            "such as 1:10"
        )
    return denominator


def export_single(
    job: Job, path: Path, wanted: Single, watch: Callable[[float], bool] = lambda _share: True
) -> Path:
    """Write one drawing; what stood at the path is replaced only by a whole file.

    Args:
        job: what is drawn, on which paper.
        path: where to; its ending says how.
        wanted: which view, at which scale.
        watch: told the share that is done; says whether to go on.

    Raises:
        ExportError: an argument makes no sense, or the file cannot be written.
        ExportCancelledError: `watch` said no; nothing has been written.
    """
    ending = _ending(path)
    wanted = _checked(job.build, wanted, ending)
    application()
    try:
        _go_on(watch, 0.1)
        data = _dxf(job, wanted) if ending == "dxf" else _page(job, wanted, ending)
        _go_on(watch, 0.95)
    except ScaleError as error:
        raise ExportError(str(error)) from error
    except (FontError, SymbolError) as error:
        raise ExportError(str(error)) from error
    try:
        write_atomically(path, data)
    except OSError as error:
        raise ExportError(f"{path} could not be written: {error.strerror or error}") from error
    return path


def _go_on(watch: Callable[[float], bool], share: float) -> None:
    if not watch(share):
        raise ExportCancelledError("The export was cancelled; nothing has been written.")


def _ending(path: Path) -> Ending:
    text = path.suffix.removeprefix(".").lower()
    if text not in ENDINGS:
        raise ExportError(
            f"'{path.name}' does not say what kind of file to write; "
            "end it in .png, .svg, .pdf or .dxf"
        )
    return text


def _checked(build: Build, wanted: Single, ending: Ending) -> Single:
    """With a view and a level where they are needed.

    Raises:
        ExportError: there is no such view or level.
    """
    if wanted.view is not None and wanted.view not in SINGLE_VIEWS:
        raise ExportError(f"there is no view '{wanted.view}'; use {', '.join(SINGLE_VIEWS)}")
    if not LEAST_DPI <= wanted.dpi <= MOST_DPI:
        raise ExportError(f"{wanted.dpi} dots an inch is outside {LEAST_DPI} to {MOST_DPI}")
    levels = [level.name for level in build.cart.levels]
    if wanted.level is not None:
        if wanted.view not in (None, "plan"):
            raise ExportError("a level can be chosen for the plan only, not for an elevation")
        if wanted.level not in levels:
            raise ExportError(f"there is no level '{wanted.level}'; there are: {', '.join(levels)}")
        wanted = replace(wanted, view="plan")
    if ending == "dxf":
        return wanted
    view = wanted.view or "plan"
    if view == "plan" and not levels:
        raise ExportError("the cart has no level yet, so there is no plan to draw")
    level = (wanted.level or levels[0]) if view == "plan" else None
    return replace(wanted, view=view, level=level)


def _content(job: Job, wanted: Single) -> Content:
    if wanted.view == "plan":
        return plan_content(job, (wanted.level or "",), wanted.denominator)
    return elevation_content(job, (cast(View, wanted.view),), wanted.denominator)


def _page(job: Job, wanted: Single, ending: Ending) -> bytes:
    content = _content(job, wanted)
    page: Page = lay_out(content, job).pages()[0]
    title = f"{job.build.name or 'Unnamed cart'}: {content.title}"
    if ending == "png":
        return png_bytes(page.canvas(), wanted.dpi)
    if ending == "svg":
        return svg_bytes(page.canvas(), title, "Drawing of a beverage cart")
    return pdf_bytes([page.canvas()], title)


def _dxf(job: Job, wanted: Single) -> bytes:
    # It takes 0.4 s to import, which nobody else should wait for.
    from .dxf import Wanted, dxf_bytes, everything

    shown = everything(job)
    if wanted.view == "plan":
        shown = Wanted((wanted.level,) if wanted.level else shown.levels, ())
    elif wanted.view in VIEWS:
        shown = Wanted((), (wanted.view,))
    return dxf_bytes(job, shown, wanted.denominator)
