"""The page in its forms, looked at as people do: in a browser on a phone and on A4, in a PDF, in a spreadsheet."""
from __future__ import annotations

import io
import re
import shutil
from dataclasses import replace
from datetime import datetime
from html.parser import HTMLParser

import openpyxl
import pypdf
import pytest
import tablib

from bot.chart import png
from bot.cli import main
from bot.log.html import as_html
from bot.log.page import Table
from bot.log.pdf import as_pdf
from bot.log.rows import as_csv

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
A4_PT = (595.28, 841.89)    # ISO 216: 210 by 297 mm


@pytest.fixture(scope="session")
def html(kept):
    return as_html(kept.page, png(kept.lines, kept.school))


class Elements(HTMLParser):
    """Every element with its attributes, and all text."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(source)

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.text += data


def test_the_page_runs_no_script_and_fetches_nothing(html):
    elements = Elements(html)
    names = {name for name, _ in elements.found}
    assert not names & {"script", "link", "iframe", "object", "embed", "form", "base"}
    for _, attributes in elements.found:
        assert not any(name.startswith("on") for name in attributes)
        for name in ("src", "href", "srcset", "action"):
            assert (attributes.get(name) or "data:").startswith("data:image/png;base64,"[:5])
    assert "http://" not in html
    assert "https://" not in html
    assert "url(" not in html


def test_what_people_typed_is_shown_as_they_typed_it_and_is_no_markup(kept, html):
    assert "<b>back left</b> corner & door run hot" in Elements(html).text
    assert "<b>" not in html
    evil = replace(kept.page, title="<script>alert(1)</script>", tables=(
        Table("x", ("a",), (('"><img src=x onerror=alert(1)>',),)),))
    assert {name for name, _ in Elements(as_html(evil)).found} & {"script", "img"} == set()


needs_browser = pytest.mark.skipif(BROWSER is None, reason="no Chromium here: install the chromium package to run this")


@pytest.fixture(scope="module")
def browser():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield opened
        opened.close()


# Contrast of text by WCAG 2.1, success criterion 1.4.3: 4.5 to 1 at least.
LOOK = """() => {
  const light = c => { const [r, g, b] = c.match(/[\\d.]+/g).map(Number).map(v => v / 255)
      .map(v => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126*r + 0.7152*g + 0.0722*b };
  const seen = [...document.querySelectorAll('h1,h2,p,dt,dd,td,th,figcaption')].filter(e => e.getClientRects().length
      && getComputedStyle(e).clipPath === 'none' && !e.closest('thead'));
  return {
    wide: document.documentElement.scrollWidth, window: innerWidth,
    out: seen.filter(e => e.getBoundingClientRect().right > innerWidth + 1).map(e => e.textContent),
    cut: seen.filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth).map(e => e.textContent),
    least: Math.min(...seen.map(e => parseFloat(getComputedStyle(e).fontSize))),
    contrast: Math.min(...seen.map(e => 1.05 / (light(getComputedStyle(e).color) + 0.05))),
    image: document.querySelector('img').getBoundingClientRect().width,
    loaded: document.querySelector('img').naturalWidth,
    head: getComputedStyle(document.querySelector('thead')).position,
  }}"""


@needs_browser
def test_on_a_phone_nothing_sticks_out_and_all_can_be_read(browser, html, tmp_path):
    path = tmp_path / "page.html"
    path.write_text(html, encoding="utf-8")
    page = browser.new_page(viewport={"width": 390, "height": 844}, device_scale_factor=2)
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    seen = page.evaluate(LOOK)
    assert seen["wide"] <= seen["window"] == 390
    assert seen["out"] == []
    assert seen["cut"] == []
    assert seen["least"] >= 12
    assert seen["contrast"] >= 4.5
    assert seen["loaded"] == 1080
    assert seen["image"] >= 340
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    # Column heads are out of sight, so each cell says what it is.
    said = page.evaluate("getComputedStyle(document.querySelector('td:not(.none)'), '::before').content")
    assert said.strip('"').strip() == "time"
    page.close()


@needs_browser
def test_printed_it_is_a4_with_heads_on_every_page_and_whole_lines(browser, html, tmp_path):
    path = tmp_path / "page.html"
    path.write_text(html, encoding="utf-8")
    page = browser.new_page(viewport={"width": 794, "height": 1123})
    page.goto(path.as_uri())
    page.emulate_media(media="print")
    seen = page.evaluate(LOOK)
    assert seen["out"] == []
    assert seen["head"] == "static"
    made = page.pdf(prefer_css_page_size=True)
    page.close()
    check_paper(made, least_pages=2, most_pages=8)


def check_paper(made: bytes, least_pages: int, most_pages: int) -> None:
    paper = pypdf.PdfReader(io.BytesIO(made))
    assert least_pages <= len(paper.pages) <= most_pages
    for each in paper.pages:
        assert (float(each.mediabox.width), float(each.mediabox.height)) == pytest.approx(A4_PT, abs=1.5)
    text = " ".join(re.sub(r"\s+", " ", each.extract_text()) for each in paper.pages)
    for words in ("Yard day", "2 avoid gluten", "burnt my hand on the peel", "chilling begun", "Signed", "UK rule",
                  "<b>back left</b> corner & door run hot"):
        assert words in text


def test_the_pdf_is_a4_holds_the_page_and_is_the_same_each_time(kept):
    chart = png(kept.lines, kept.school)
    made = as_pdf(kept.page, chart)
    check_paper(made, least_pages=2, most_pages=6)
    assert as_pdf(kept.page, chart) == made
    assert any(each.images for each in pypdf.PdfReader(io.BytesIO(made)).pages)


def test_a_sign_that_the_font_lacks_is_a_box_and_a_very_long_line_breaks(kept):
    odd = replace(kept.page, title="Zoë's 羊", tables=(Table("x", ("a", "b"), (("w" * 300, "🔥" * 3),)),))
    text = "".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(as_pdf(odd))).pages)
    assert "Zoë's □" in text
    assert text.count("w") >= 300


def test_a_spreadsheet_reads_the_table_row_for_row(kept, tmp_path):
    """tablib reads the CSV, openpyxl the spreadsheet that tablib writes of it."""
    table = tablib.Dataset().load(as_csv(kept.rows), format="csv")
    assert len(table) == len(kept.rows.rows)
    floor = [row for row in table.dict if row["kind"] == "reading" and row["place"] == "floor"]
    assert [float(row["celsius"]) for row in floor] == [210, 199, 199, 148, 184]
    assert datetime.fromisoformat(table["told"][0]).isoformat() == "2026-05-16T05:00:00+01:00"
    (tmp_path / "log.xlsx").write_bytes(table.export("xlsx"))
    sheet = openpyxl.load_workbook(tmp_path / "log.xlsx").active
    assert sheet.max_row == len(table) + 1
    assert [cell.value for cell in sheet[1]][:5] == ["at", "told", "who", "text", "kind"]
    said = {str(row[3].value) for row in sheet}
    assert "note: <b>back left</b> corner & door run hot" in said


def test_words_that_a_spreadsheet_would_run_are_text(kept):
    """OWASP, CSV injection: cells that begin with = + - @ are formulas to a spreadsheet."""
    rows = tuple(replace(row, text="=1+1", who="@sum") for row in kept.rows.rows[:1])
    (row,) = tablib.Dataset().load(as_csv(replace(kept.rows, rows=rows)), format="csv").dict
    assert (row["text"], row["who"]) == ("'=1+1", "'@sum")


@pytest.mark.parametrize(("form", "begins"), [("html", b"<!doctype html>"), ("pdf", b"%PDF-"),
                                              ("plot", b"\x89PNG\r\n\x1a\n")])
def test_the_command_writes_each_form(kept, capfdbinary, form, begins):
    assert main(["log", "last", f"--{form}", "--data", str(kept.folder)]) == 0
    assert capfdbinary.readouterr().out.startswith(begins)


def test_the_command_writes_to_a_file_and_says_when_it_cannot(kept, capsys, tmp_path):
    command = ["log", "last", "--csv", "--data", str(kept.folder), "--out"]
    assert main([*command, str(tmp_path / "x")]) == 0
    assert "written to" in capsys.readouterr().out
    assert (tmp_path / "x").read_bytes().startswith(b"at,told,who")
    assert main([*command, str(tmp_path)]) == 2
    assert "name another file with --out" in capsys.readouterr().err
