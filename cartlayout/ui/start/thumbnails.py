"""Small pictures of builds, drawn by the plan's own painter away from the window's thread."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, QRectF, QThread, Signal
from PySide6.QtGui import QColor, QImage, QPainter

from ...analysis import analyse
from ...build import Build
from ...build.file import CartFileError, load
from ...documents.plan import PlanOptions, plan_picture
from ...documents.plan.ink import Ink
from ...documents.plan.paint import draw_body, draw_ground, draw_run
from ...documents.theme import Theme
from ...units import counted

PICTURE = (216, 120)
_MARGIN = 8.0
_POINT_PX = 0.62
"""Lines are thinner than on a plan one works on."""


@dataclass(frozen=True, slots=True)
class Thumbnail:
    """What a file looks like, and what it is."""

    path: Path
    name: str
    image: QImage | None
    remark: str = ""
    """What is in it, in a few words."""
    problem: str = ""
    """Why there is no picture."""


def draw(build: Build, theme: Theme, ratio: float = 1.0) -> QImage:
    """The plan of the top level, without words."""
    width, height = PICTURE
    image = QImage(round(width * ratio), round(height * ratio), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(QColor(theme.paper))
    level = max(build.cart.levels, key=lambda one: one.height.si, default=None)
    options = PlanOptions(level=level.name if level is not None else "")
    picture = plan_picture(build, analyse(build), options)
    box = picture.box
    scale = min((width - 2 * _MARGIN) / box.width, (height - 2 * _MARGIN) / box.height)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setClipRect(QRectF(0, 0, width, height))
    painter.translate(width / 2, height / 2)
    painter.scale(scale, scale)
    painter.translate(-box.centre[0], -box.centre[1])
    ink = Ink(theme, _POINT_PX / scale)
    draw_ground(painter, picture, ink)
    for body in sorted(picture.bodies, key=lambda one: one.ghosted):
        draw_body(painter, body, ink, None)
    for medium in ("drain", "water", "power"):
        for run in picture.runs:
            if run.medium == medium:
                draw_run(painter, run, ink)
    painter.end()
    return image


class Thumbnails(QThread):
    """Draws one file after the other, and stops when asked to."""

    drawn = Signal(object)
    """Thumbnail."""

    def __init__(
        self, paths: Sequence[Path], theme: Theme, ratio: float, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._paths = tuple(paths)
        self._theme = theme
        self._ratio = ratio

    def run(self) -> None:
        for path in self._paths:
            if self.isInterruptionRequested():
                return
            self.drawn.emit(self._draw(path))

    def stop(self) -> None:
        """Draw no more; returns when the one under way is done."""
        self.requestInterruption()
        self.wait()

    def _draw(self, path: Path) -> Thumbnail:
        try:
            build = load(path)
        except CartFileError as error:
            return Thumbnail(path, path.stem, None, problem=str(error))
        image = draw(build, self._theme, self._ratio)
        remark = f"{counted(len(build.items), 'item')}, {build.region}"
        return Thumbnail(path, build.name or path.stem, image, remark)
