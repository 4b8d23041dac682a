"""The annotated plan as a file: PNG, SVG or PDF. Works without a window and without a display."""

import datetime
from collections.abc import Callable, Collection
from pathlib import Path
from typing import Literal, cast, get_args

from PySide6.QtGui import QGuiApplication

from ..analysis import Analysis
from ..build import Build
from ..build.file import write_atomically
from ..units import UnitSystem
from .devices import (
    LEAST_DPI,
    MOST_DPI,
    Canvas,
    ExportCancelledError,
    ExportError,
    pdf_bytes,
    png_bytes,
    svg_bytes,
)
from .fonts import FontError
from .plan.picture import OVERLAYS, USUAL_OVERLAYS, Overlay
from .plan.symbols import SymbolError
from .sheet import Sheet, SheetOptions, lay_out, paint_sheet
from .sheet.layout import SheetName
from .theme import LIGHT

__all__ = ["ExportCancelledError", "ExportError", "application", "canvas", "export_plan"]

Format = Literal["png", "svg", "pdf"]
FORMATS: tuple[Format, ...] = get_args(Format)

_application: QGuiApplication | None = None


def _never_stop(_share: float) -> bool:
    return True


def _go_on(watch: Callable[[float], bool], share: float) -> None:
    if not watch(share):
        raise ExportCancelledError("The export was cancelled; nothing has been written.")


def export_plan(
    build: Build,
    analysis: Analysis,
    path: Path | str,
    format: Format | None = None,
    dpi: int = 300,
    sheet: SheetName | Literal["auto"] = "auto",
    overlays: Collection[str] = USUAL_OVERLAYS,
    system: UnitSystem | None = None,
    date: datetime.date | None = None,
    level: str | None = None,
    file: str = "",
    watch: Callable[[float], bool] = _never_stop,
) -> Path:
    """Write the annotated plan; what stood at the path is replaced only by a whole file.

    Args:
        build: what is drawn.
        analysis: of that build.
        path: where to; its ending says how unless `format` does.
        format: "png", "svg" or "pdf".
        dpi: dots an inch of a PNG.
        sheet: a size of paper, or "auto": letter in the US, A4 elsewhere.
        overlays: which of "power", "water", "drain", "clearance", "weight" are drawn and listed.
        system: units; None: the build's own.
        date: in the title block; None: today.
        level: drawn solid; None: the cart's first.
        file: name of the build's file for the title block.
        watch: told the share that is done; says whether to go on.

    Returns:
        The path written.

    Raises:
        ExportError: an argument makes no sense, or the file cannot be written.
        ExportCancelledError: `watch` said no; nothing has been written.
    """
    path = Path(path)
    kind = _format(path, format)
    if not LEAST_DPI <= dpi <= MOST_DPI:
        raise ExportError(f"{dpi} dots an inch is outside {LEAST_DPI} to {MOST_DPI}")
    options = SheetOptions(
        sheet=_sheet(sheet, build),
        overlays=_overlays(overlays),
        system=system or UnitSystem(build.units),
        date=date,
        level=level,
        file=file,
    )
    application()
    _go_on(watch, 0.1)
    try:
        laid_out = lay_out(build, analysis, options)
        _go_on(watch, 0.6)
        data = _bytes(laid_out, kind, dpi, build.name)
    except (FontError, SymbolError) as error:
        raise ExportError(str(error)) from error
    _go_on(watch, 0.95)
    try:
        write_atomically(path, data)
    except OSError as error:
        raise ExportError(f"{path} could not be written: {error.strerror or error}") from error
    return path


def application() -> QGuiApplication:
    """The running application, or one made for painting without any display."""
    global _application
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    _application = QGuiApplication(["cartlayout", "-platform", "offscreen"])
    return _application


def _format(path: Path, wanted: Format | None) -> Format:
    text = wanted or path.suffix.removeprefix(".").lower()
    if text not in FORMATS:
        raise ExportError(
            f"'{path.name}' does not say what kind of file to write; end it in .png, .svg or .pdf"
        )
    return text


def _sheet(wanted: str, build: Build) -> SheetName:
    if wanted == "auto":
        return "letter" if build.region == "US" else "A4"
    if wanted not in get_args(SheetName):
        raise ExportError(
            f"there is no sheet '{wanted}'; use {', '.join(get_args(SheetName))} or auto"
        )
    return cast(SheetName, wanted)


def _overlays(wanted: Collection[str]) -> frozenset[Overlay]:
    for one in wanted:
        if one not in OVERLAYS:
            raise ExportError(f"there is no overlay '{one}'; use {', '.join(OVERLAYS)}")
    return frozenset(cast(Collection[Overlay], wanted))


def canvas(sheet: Sheet) -> Canvas:
    """The sheet as a page of a file."""
    return Canvas(
        sheet.width, sheet.height, sheet.name, lambda painter: paint_sheet(painter, sheet, LIGHT)
    )


def _bytes(sheet: Sheet, kind: Format, dpi: int, name: str) -> bytes:
    title = name or "Cart plan"
    if kind == "png":
        return png_bytes(canvas(sheet), dpi)
    if kind == "svg":
        return svg_bytes(canvas(sheet), title, "Annotated plan of a beverage cart")
    return pdf_bytes((canvas(sheet),), title)
