"""The pages of a PDF: its two faces, its footer with the number of pages, and its bookmarks."""

from __future__ import annotations

from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from viz.look.lettering import faces

FONT, BOLD = "SheetSans", "SheetSans-Bold"


def fonts() -> None:
    """The two faces: wide coverage, and embedded as subsets."""
    if BOLD in pdfmetrics.getRegisteredFontNames():
        return
    for name, face in zip((FONT, BOLD), faces(), strict=True):
        pdfmetrics.registerFont(TTFont(name, str(face)))
    pdfmetrics.registerFontFamily(FONT, normal=FONT, bold=BOLD, italic=FONT, boldItalic=BOLD)


class Numbered(Canvas):  # type: ignore[misc]
    """A canvas that knows how many pages there are before it writes 'page n of m' on each."""

    def __init__(self, *args: Any, footer: str, margin: float, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._footer, self._margin = footer, margin
        self._pages: list[dict[str, Any]] = []
        self._headings: list[str] = []

    def showPage(self) -> None:
        """Keep the page instead of writing it."""
        self._pages.append(dict(self.__dict__))
        self._headings = []
        self._startPage()

    def head(self, title: str) -> None:
        """A heading stands on this page."""
        self._headings.append(title)

    def save(self) -> None:
        """Write every page with its footer."""
        for n, page in enumerate(self._pages, 1):
            self.__dict__.update(page)
            for title in self._headings:
                self.bookmarkPage(title)
                self.addOutlineEntry(title, title)
            self.setFont(FONT, 7.5)
            self.drawString(self._margin, self._margin, self._footer)
            self.drawRightString(
                self._pagesize[0] - self._margin, self._margin, f"page {n} of {len(self._pages)}"
            )
            super().showPage()
        super().save()
