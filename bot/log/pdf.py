"""The class page as a PDF on A4. Same page, same bytes: its date is that of the last word of the class."""
from __future__ import annotations

import io
import logging
from importlib.util import find_spec
from pathlib import Path

from fpdf import FPDF
from fpdf.enums import Align, TableBordersLayout
from fpdf.fonts import FontFace

from bot.log.page import Page, Table

MARGIN_MM = 12.0
FAMILY = "sans"
PALE = 120


def as_pdf(page: Page, chart: bytes | None = None) -> bytes:
    """The page; `chart`: a PNG that is put in it."""
    # fpdf2 and its font tool tell at length of each table of a font.
    logging.getLogger("fontTools").setLevel(logging.ERROR)
    logging.getLogger("fpdf").setLevel(logging.ERROR)
    paper = _Paper(page)
    paper.add_page()
    paper.heading(page.title, 16)
    paper.words(page.under, grey=True)
    paper.ln(2)
    for label, text in page.top:
        paper.labelled(label, text)
    if chart is not None:
        paper.ln(2)
        paper.image(io.BytesIO(chart), x=Align.C, h=min(150.0, paper.eph - paper.get_y() + MARGIN_MM),
                    keep_aspect_ratio=True)
    for table in page.tables:
        paper.table_of(table)
    paper.add_signature(page)
    return bytes(paper.output())


def _fonts() -> Path:
    """DejaVu Sans, which matplotlib brings along, found without loading matplotlib."""
    spec = find_spec("matplotlib")
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf"


class _Paper(FPDF):
    def __init__(self, page: Page) -> None:
        super().__init__(format="A4")
        fonts = _fonts()
        self.add_font(FAMILY, "", fonts / "DejaVuSans.ttf")
        self.add_font(FAMILY, "B", fonts / "DejaVuSans-Bold.ttf")
        known = self.fonts[FAMILY].cmap  # type: ignore[union-attr]
        self._known = frozenset(known)
        self._of = page
        self.set_margin(MARGIN_MM)
        self.set_auto_page_break(True, 16)
        self.set_title(self.clean(page.title))
        self.set_lang("en")
        if page.made_at is not None:
            self.set_creation_date(page.made_at)

    def clean(self, text: str) -> str:
        """A sign that the font lacks is shown as a box, as a printer would."""
        return "".join(each if ord(each) in self._known or each == "\n" else "\u25a1" for each in text)

    def footer(self) -> None:
        self.set_y(-12)
        self.set_font(FAMILY, "", 7)
        self.set_text_color(PALE)
        self.cell(0, 4, self.clean(f"{self._of.title}, {self._of.under}: page {self.page_no()} of {{nb}}"))
        self.set_text_color(0)

    def heading(self, text: str, size: float) -> None:
        self.set_font(FAMILY, "B", size)
        self.multi_cell(0, size * 0.5, self.clean(text), new_x="LMARGIN", new_y="NEXT")

    def words(self, text: str, *, grey: bool = False) -> None:
        self.set_font(FAMILY, "", 8)
        self.set_text_color(80 if grey else 0)
        self.multi_cell(0, 4, self.clean(text), new_x="LMARGIN", new_y="NEXT")
        self.set_text_color(0)

    def labelled(self, label: str, text: str) -> None:
        self.set_font(FAMILY, "B", 8.5)
        self.cell(32, 4.4, self.clean(label))
        self.set_font(FAMILY, "", 8.5)
        self.multi_cell(0, 4.4, self.clean(text), new_x="LMARGIN", new_y="NEXT")

    def table_of(self, table: Table) -> None:
        # A heading alone at the foot of a page belongs on the next.
        if self.will_page_break(28):
            self.add_page()
        self.ln(4)
        self.heading(table.heading, 11)
        if table.note:
            self.words(table.note, grey=True)
        if not table.rows:
            self.words(table.empty)
            return
        self.set_font(FAMILY, "", 7.5)
        with self.table(col_widths=_widths(table), line_height=3.8, padding=0.6, text_align="LEFT",
                        borders_layout=TableBordersLayout.HORIZONTAL_LINES,
                        headings_style=FontFace(emphasis="BOLD")) as grid:
            for cells in (table.columns, *table.rows):
                row = grid.row()
                for cell in cells:
                    row.cell(self.clean(cell))

    def add_signature(self, page: Page) -> None:
        if self.will_page_break(14.0 * len(page.sign) + 20):
            self.add_page()
        self.ln(4)
        self.heading("To be filled in by hand", 11)
        self.set_font(FAMILY, "", 8)
        for each in page.sign:
            self.ln(8)
            self.cell(0, 5, self.clean(each), border="B", new_x="LMARGIN", new_y="NEXT")
        self.ln(4)
        self.words(page.foot, grey=True)


def _widths(table: Table) -> tuple[int, ...]:
    """A column is as wide as its longer texts need, within reason; a heading may wrap between its words, not in one."""
    return tuple(max(7, min(60, max((len(cell) for cell in column), default=0)),
                     *(len(word) + 2 for word in heading.split()))
                 for heading, *column in zip(table.columns, *table.rows, strict=True))
