"""The annotated plan as a file: PNG, SVG or PDF. Works without a window and without a display."""

import datetime
from collections.abc import Callable, Collection
from pathlib import Path
from typing import Literal, cast, get_args

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSize, QSizeF
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QImage,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
)
from PySide6.QtSvg import QSvgGenerator

from ..analysis import Analysis
from ..build import Build
from ..build.file import write_atomically
from ..units import UnitSystem
from .fonts import FontError
from .lettering import outlined
from .plan.picture import OVERLAYS, USUAL_OVERLAYS, Overlay
from .plan.symbols import SymbolError
from .sheet import Sheet, SheetOptions, lay_out, paint_sheet
from .sheet.layout import SheetName
from .svg_mending import mended
from .theme import LIGHT

Format = Literal["png", "svg", "pdf"]
FORMATS: tuple[Format, ...] = get_args(Format)
LEAST_DPI, MOST_DPI = 72, 1200
_MM_PER_INCH = 25.4
_PDF_DPI = 1200

_application: QGuiApplication | None = None


class ExportError(Exception):
    """A plan that could not be written; the message says why, in words for people."""


class ExportCancelledError(ExportError):
    """The person changed their mind; nothing has been written."""


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
    sheet: Literal["letter", "A4", "auto"] = "auto",
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
        sheet: "letter", "A4", or "auto": letter in the US, A4 elsewhere.
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
        raise ExportError(f"there is no sheet '{wanted}'; use letter, A4 or auto")
    return cast(SheetName, wanted)


def _overlays(wanted: Collection[str]) -> frozenset[Overlay]:
    for one in wanted:
        if one not in OVERLAYS:
            raise ExportError(f"there is no overlay '{one}'; use {', '.join(OVERLAYS)}")
    return frozenset(cast(Collection[Overlay], wanted))


def _bytes(sheet: Sheet, kind: Format, dpi: int, name: str) -> bytes:
    if kind == "png":
        return png_bytes(sheet, dpi)
    if kind == "svg":
        return svg_bytes(sheet, name)
    return pdf_bytes(sheet, name)


def png_bytes(sheet: Sheet, dpi: int) -> bytes:
    """The sheet in pixels, its size in the file's metadata."""
    per_mm = dpi / _MM_PER_INCH
    image = QImage(
        round(sheet.width * per_mm), round(sheet.height * per_mm), QImage.Format.Format_RGB32
    )
    if image.isNull():
        raise ExportError(f"an image of {dpi} dots an inch is too large for this machine's memory")
    image.setDotsPerMeterX(round(per_mm * 1000.0))
    image.setDotsPerMeterY(round(per_mm * 1000.0))
    image.fill(QColor("#ffffff"))
    _paint(sheet, image, per_mm)
    buffer = _buffer()
    if not image.save(buffer, "PNG", 70):  # type: ignore[call-overload]
        raise ExportError("the image could not be encoded as PNG")
    return _taken(buffer)


def svg_bytes(sheet: Sheet, name: str) -> bytes:
    """The sheet as vectors: width and height in mm, coordinates in mm."""
    buffer = _buffer()
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    # A resolution of 254 makes a size in tenths of a millimetre come out in mm.
    generator.setResolution(254)
    generator.setSize(QSize(round(sheet.width * 10), round(sheet.height * 10)))
    generator.setViewBox(QRectF(0.0, 0.0, sheet.width, sheet.height))
    generator.setTitle(name or "Cart plan")
    generator.setDescription("Annotated plan of a beverage cart")
    painter = QPainter()
    if not painter.begin(generator):
        raise ExportError("the drawing could not be begun as SVG")
    painter.fillRect(QRectF(0.0, 0.0, sheet.width, sheet.height), QColor("#ffffff"))
    with outlined():
        paint_sheet(painter, sheet, LIGHT)
    painter.end()
    return mended(_taken(buffer))


def pdf_bytes(sheet: Sheet, name: str) -> bytes:
    """The sheet as a page of vectors and text."""
    buffer = _buffer()
    writer = QPdfWriter(buffer)
    writer.setResolution(_PDF_DPI)
    writer.setTitle(name or "Cart plan")
    writer.setCreator("cartlayout")
    # Given upright and turned: a size given wide would be turned upright by the page layout.
    size = QPageSize(
        QSizeF(sheet.height, sheet.width),
        QPageSize.Unit.Millimeter,
        sheet.name,
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    writer.setPageLayout(
        QPageLayout(size, QPageLayout.Orientation.Landscape, QMarginsF(0.0, 0.0, 0.0, 0.0))
    )
    _paint(sheet, writer, _PDF_DPI / _MM_PER_INCH)
    return _taken(buffer)


def _paint(sheet: Sheet, device: QImage | QPdfWriter, per_mm: float) -> None:
    painter = QPainter()
    if not painter.begin(device):
        raise ExportError("the drawing could not be begun")
    painter.scale(per_mm, per_mm)
    paint_sheet(painter, sheet, LIGHT)
    painter.end()


def _buffer() -> QBuffer:
    buffer = QBuffer()
    buffer.setData(QByteArray())
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    return buffer


def _taken(buffer: QBuffer) -> bytes:
    buffer.close()
    return bytes(buffer.data().data())
