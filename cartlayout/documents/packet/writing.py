"""Pages of sheets as files in memory: one PDF of all, one a sheet, pictures a page."""

from collections.abc import Callable, Iterator, Sequence

from ...build import Build
from ..devices import ExportCancelledError, ExportError, pdf_bytes, png_bytes, svg_bytes
from .content import Content
from .pages import Page

Watch = Callable[[float, str], bool]
"""Told the share that is done and what is being done; says whether to go on."""
PNG_DPI = 200
"""Legible on a screen at twice its size; for print there is the PDF."""


def go_on(watch: Watch, share: float, words: str) -> None:
    """Tell how far the work is.

    Raises:
        ExportCancelledError: the person does not want it any more.
    """
    if not watch(share, words):
        raise ExportCancelledError("The packet was cancelled; nothing has been written.")


def pdf(pages: Sequence[Page], title: str, between: Callable[[int], None] | None = None) -> bytes:
    """Pages as one PDF, vectors and text."""
    if not pages:
        raise ExportError("there is no page to write")
    return pdf_bytes([page.canvas() for page in pages], title, between)


def png(page: Page) -> bytes:
    """A page in pixels."""
    return png_bytes(page.canvas(), PNG_DPI)


def svg(page: Page, title: str) -> bytes:
    """A page as a drawing to work on."""
    return svg_bytes(page.canvas(), title, "A sheet about a beverage cart")


def sheet_title(build: Build, content: Content) -> str:
    """Of a file with one sheet."""
    return f"{build.name or 'Unnamed cart'}: {content.title}"


def page_names(content: Content, pages: Sequence[Page], ending: str) -> Iterator[tuple[str, Page]]:
    """File names of the pages of a sheet: numbered where there are several."""
    for number, page in enumerate(pages, 1):
        more = f"-{number}" if len(pages) > 1 else ""
        yield f"pages/{content.key}{more}.{ending}", page
