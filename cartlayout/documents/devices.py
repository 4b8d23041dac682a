"""Pages turned into bytes: PNG, SVG, PDF. What is on them is somebody else's business."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSize, QSizeF
from PySide6.QtGui import QColor, QImage, QPageLayout, QPageSize, QPainter, QPdfWriter
from PySide6.QtSvg import QSvgGenerator

from .lettering import outlined
from .svg_mending import mended

LEAST_DPI, MOST_DPI = 72, 1200
_MM_PER_INCH = 25.4
_PDF_DPI = 1200


class ExportError(Exception):
    """A document that could not be written; the message says why, in words for people."""


class ExportCancelledError(ExportError):
    """The person changed their mind; nothing has been written."""


@dataclass(frozen=True, slots=True)
class Canvas:
    """One page: its size in millimetres, and what paints it with a painter in millimetres."""

    width_mm: float
    height_mm: float
    name: str
    """Of the paper: "A4"."""
    paint: Callable[[QPainter], None]


def png_bytes(canvas: Canvas, dpi: int) -> bytes:
    """The page in pixels, its size in the file's metadata.

    Raises:
        ExportError: the image is too large for this machine, or cannot be encoded.
    """
    per_mm = dpi / _MM_PER_INCH
    image = QImage(
        round(canvas.width_mm * per_mm),
        round(canvas.height_mm * per_mm),
        QImage.Format.Format_RGB32,
    )
    if image.isNull():
        raise ExportError(f"an image of {dpi} dots an inch is too large for this machine's memory")
    image.setDotsPerMeterX(round(per_mm * 1000.0))
    image.setDotsPerMeterY(round(per_mm * 1000.0))
    image.fill(QColor("#ffffff"))
    painter = _begun(image, "PNG")
    painter.scale(per_mm, per_mm)
    canvas.paint(painter)
    painter.end()
    buffer = _buffer()
    if not image.save(buffer, "PNG", 70):  # type: ignore[call-overload]
        raise ExportError("the image could not be encoded as PNG")
    return _taken(buffer)


def svg_bytes(canvas: Canvas, title: str, description: str) -> bytes:
    """The page as vectors: width and height in mm, coordinates in mm.

    Raises:
        ExportError: it cannot be drawn.
    """
    buffer = _buffer()
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    # A resolution of 254 makes a size in tenths of a millimetre come out in mm.
    generator.setResolution(254)
    generator.setSize(QSize(round(canvas.width_mm * 10), round(canvas.height_mm * 10)))
    generator.setViewBox(QRectF(0.0, 0.0, canvas.width_mm, canvas.height_mm))
    generator.setTitle(title)
    generator.setDescription(description)
    painter = _begun(generator, "SVG")
    painter.fillRect(QRectF(0.0, 0.0, canvas.width_mm, canvas.height_mm), QColor("#ffffff"))
    with outlined():
        canvas.paint(painter)
    painter.end()
    return mended(_taken(buffer))


def pdf_bytes(
    canvases: Sequence[Canvas], title: str, between: Callable[[int], None] | None = None
) -> bytes:
    """Pages of vectors and text; wide and upright ones may be mixed.

    Args:
        canvases: one a page, at least one.
        title: in the file's metadata.
        between: called before each page with its place from 0; what it raises ends the work.

    Raises:
        ExportError: it cannot be drawn.
    """
    buffer = _buffer()
    writer = QPdfWriter(buffer)
    writer.setResolution(_PDF_DPI)
    writer.setTitle(title)
    writer.setCreator("cartlayout")
    writer.setPageLayout(_page_layout(canvases[0]))
    painter = _begun(writer, "PDF")
    try:
        for place, canvas in enumerate(canvases):
            if between is not None:
                between(place)
            if place:
                writer.setPageLayout(_page_layout(canvas))
                writer.newPage()
            painter.save()
            painter.scale(_PDF_DPI / _MM_PER_INCH, _PDF_DPI / _MM_PER_INCH)
            canvas.paint(painter)
            painter.restore()
    finally:
        painter.end()
    return _taken(buffer)


def _page_layout(canvas: Canvas) -> QPageLayout:
    """The page's size, given upright and turned: one given wide would be turned upright."""
    short, long = sorted((canvas.width_mm, canvas.height_mm))
    size = QPageSize(
        QSizeF(short, long),
        QPageSize.Unit.Millimeter,
        canvas.name,
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    turned = (
        QPageLayout.Orientation.Landscape
        if canvas.width_mm > canvas.height_mm
        else QPageLayout.Orientation.Portrait
    )
    return QPageLayout(size, turned, QMarginsF(0.0, 0.0, 0.0, 0.0))


def _begun(device: QImage | QPdfWriter | QSvgGenerator, kind: str) -> QPainter:
    painter = QPainter()
    if not painter.begin(device):
        raise ExportError(f"the drawing could not be begun as {kind}")
    return painter


def _buffer() -> QBuffer:
    buffer = QBuffer()
    buffer.setData(QByteArray())
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    return buffer


def _taken(buffer: QBuffer) -> bytes:
    buffer.close()
    return bytes(buffer.data().data())
