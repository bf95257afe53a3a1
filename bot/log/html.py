"""The class page as one HTML file: no script, nothing fetched, readable on a phone and printed on A4."""
from __future__ import annotations

import base64

from jinja2 import Environment, PackageLoader, StrictUndefined

from bot.log.page import Page

CHART_WORDS = ("The day as a chart: ovens with the band foreseen an hour ahead, readings, pots, and what was done. "
               "Every number in it stands in the tables.")


def as_html(page: Page, chart: bytes | None = None) -> str:
    """The page; `chart`: a PNG that is put inside it."""
    environment = Environment(loader=PackageLoader("bot.log"), autoescape=True, undefined=StrictUndefined,
                              trim_blocks=True, lstrip_blocks=True)
    source = None if chart is None else f"data:image/png;base64,{base64.b64encode(chart).decode('ascii')}"
    return environment.get_template("class_page.html").render(page=page, chart=source, chart_words=CHART_WORDS)
