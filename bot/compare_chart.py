"""Firings of an oven in one picture: what was read of air and floor, against the hours since the rake-out."""
from __future__ import annotations

import io
from collections.abc import Sequence

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from bot.chart import BLACK, BLUE, DPI, SMALL, TEXT, VERMILION, WIDTH_IN
from bot.compare import Figures, ovens
from skills.wording import capital

COLOURS = (BLACK, BLUE, VERMILION)
MARKS = "os^Dv*"
DASHES = ("solid", (0, (5, 2)), (0, (1, 1.5)))


def figure(made: Sequence[Figures]) -> Figure:
    """A panel for the air and one for the floor of each oven."""
    panels = [(oven, place) for oven in ovens(made) for place in ("air", "floor")
              if any(place in firing.readings for each in made for firing in each.firings if firing.oven == oven)]
    drawn = Figure(figsize=(WIDTH_IN, max(3.0 * len(panels), 2.0)), dpi=DPI, layout="constrained")
    FigureCanvasAgg(drawn)
    if not panels:
        drawn.text(0.5, 0.5, "No oven was read after a rake-out.", ha="center", fontsize=TEXT)
        return drawn
    for axes, (oven, place) in zip(drawn.subplots(len(panels), 1, squeeze=False)[:, 0], panels, strict=True):
        firings = [(each, firing) for each in made for firing in each.firings
                   if firing.oven == oven and place in firing.readings]
        for order, (each, firing) in enumerate(firings):
            rows = firing.readings[place]
            axes.plot([hour for hour, _ in rows], [heat for _, heat in rows], label=each.name,
                      color=COLOURS[order % 3], marker=MARKS[order % len(MARKS)], linestyle=DASHES[order % 3],
                      linewidth=1.6, markersize=6.5)
        axes.set_title(f"{capital(oven)} {place}, °C", loc="left", fontsize=TEXT)
        axes.set_xlabel("hours since the rake-out", fontsize=SMALL)
        axes.grid(visible=True, color="#cccccc", linewidth=0.6)
        axes.tick_params(labelsize=SMALL)
        axes.legend(fontsize=SMALL, frameon=False)
    return drawn


def png(made: Sequence[Figures]) -> bytes:
    out = io.BytesIO()
    figure(made).savefig(out, format="png", dpi=DPI, metadata={"Software": None})
    return out.getvalue()
