"""Pages drawn as a PDF file: the same sheet gives the same bytes, whatever the day and the machine's settings."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Any

from ledger.paper.fonts import ShippedLetters, font_name
from ledger.paper.locales import PaperSize
from ledger.paper.marks import Drawn, Mark, Pixels, Stroke, Tone, Words
from ledger.paper.pages import set_pages
from ledger.paper.sheet import Sheet
from ledger.text import shown

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_COLOURS: dict[Tone, tuple[float, float, float]] = {
    "ink": (0.11, 0.12, 0.14),
    "quiet": (0.38, 0.41, 0.45),
    "accent": (0.13, 0.33, 0.42),
    "pale": (0.82, 0.84, 0.86),
}
_STITCH = (7, 4)


def sheet_pdf(sheet: Sheet, paper: PaperSize) -> bytes:
    """The file. Text is drawn as text, so nothing in it can open a file, run or lead anywhere."""
    # With platypus, which reads markup, the import takes 250 ms instead of 140.
    from reportlab.pdfgen.canvas import Canvas

    file = BytesIO()
    font: Any = font_name("regular")  # the stubs take it for a number; without it Helvetica is named in every file
    canvas = Canvas(
        file, pagesize=(paper.width, paper.height), invariant=1, pageCompression=1, initialFontName=font, lang="en"
    )
    canvas.setTitle(shown(sheet.about))
    canvas.setAuthor(shown(sheet.letterhead[0]))
    canvas.setSubject("")
    canvas.setCreator("Twopurse")
    canvas.setProducer("Twopurse")
    for page in set_pages(sheet, paper, ShippedLetters()):
        for mark in page:
            _draw(canvas, mark, paper.height)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def _draw(canvas: Canvas, mark: Mark, height: float) -> None:
    match mark:
        case Words():
            canvas.setFont(font_name(mark.face), mark.size)
            canvas.setFillColorRGB(*_COLOURS[mark.tone])
            draw = canvas.drawRightString if mark.ends_at_x else canvas.drawString
            draw(mark.x, height - mark.down, mark.text)
        case Stroke():
            canvas.setLineWidth(mark.thickness)
            canvas.setStrokeColorRGB(*_COLOURS[mark.tone])
            canvas.setDash(*_STITCH) if mark.is_stitched else canvas.setDash()
            canvas.line(mark.x, height - mark.down, mark.to_x, height - mark.down)
        case Drawn():
            from reportlab.graphics import renderPDF

            renderPDF.draw(mark.drawing, canvas, mark.x, height - mark.down - mark.height)
        case Pixels():
            from reportlab.lib.utils import ImageReader

            bottom = height - mark.down - mark.height
            canvas.drawImage(ImageReader(BytesIO(mark.png)), mark.x, bottom, mark.width, mark.height)
