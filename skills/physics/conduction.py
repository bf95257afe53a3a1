"""One-dimensional conduction through layers, implicit in time, for many columns at once.

A column is a stack of cells from the hot face (cell 0) to the far side. `eliminate` folds the far cells into the first
one, so that the face answers a heat flux as `face_k = rest_k + rise_k_m2_w * flux_w_m2`; whoever knows the flux then
calls `substitute`. The face can so be coupled to its surroundings exactly and without iteration, at any time step.
Backward Euler: unconditionally stable, first order in time; second order in space (centred cells).
"""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def graded_cells_m(thickness_m: Array | float, cells: int, growth: float) -> Array:
    """Cell thicknesses (cells, ...) [m] that grow by `growth` from one to the next and fill `thickness_m` (...) [m].

    >>> graded_cells_m(0.07, 3, 2.0).round(4).tolist()
    [0.01, 0.02, 0.04]
    """
    weights = growth ** np.arange(cells, dtype=np.float64)
    weights /= weights.sum()
    return np.multiply.outer(weights, np.asarray(thickness_m, dtype=np.float64))


@dataclass(frozen=True)
class Elimination:
    """The folded system: `diagonal` and `right` (cells, columns), conductance `link` (cells - 1, columns) [W/m2/K]."""
    diagonal: Array
    right: Array
    link: Array

    @property
    def rest_k(self) -> Array:
        """First-cell temperature (columns,) [K] at the end of the step if no heat crosses the face."""
        rest: Array = self.right[0] / self.diagonal[0]
        return rest

    @property
    def rise_k_m2_w(self) -> Array:
        """Rise of the first cell (columns,) [K m2/W] for each W/m2 into the face."""
        rise: Array = 1.0 / self.diagonal[0]
        return rise


def eliminate(storage_w_m2k: Array, link_w_m2k: Array, temp_k: Array, source_w_m2: Array | float,
              far_w_m2k: Array | float, far_k: Array | float) -> Elimination:
    """Fold a step of the heat equation into the face cell.

    storage_w_m2k (cells, columns): heat capacity of each cell over the time step; link_w_m2k (cells - 1, columns): between
    neighbouring cell centres; temp_k (cells, columns) [K] before the step; source_w_m2 (cells, columns) or 0: heat put
    into the cells; far_w_m2k, far_k (columns,): film and surroundings behind the last cell. Areas are those of the face.
    Source: tridiagonal elimination (any numerical-analysis text).
    """
    cells = temp_k.shape[0]
    right = storage_w_m2k * temp_k
    right += source_w_m2
    diagonal = storage_w_m2k.copy()
    diagonal[:-1] += link_w_m2k
    diagonal[-1] += far_w_m2k
    right[-1] += far_w_m2k * far_k
    for cell in range(cells - 1, 0, -1):
        link = link_w_m2k[cell - 1]
        diagonal[cell] += link
        ratio = link / diagonal[cell]
        diagonal[cell - 1] -= ratio * link
        right[cell - 1] += ratio * right[cell]
    return Elimination(diagonal, right, link_w_m2k)


def substitute(folded: Elimination, flux_w_m2: Array | float) -> Array:
    """Temperatures (cells, columns) [K] after the step, with `flux_w_m2` (columns,) into the face."""
    temp_k = np.empty_like(folded.right)
    temp_k[0] = (folded.right[0] + flux_w_m2) / folded.diagonal[0]
    for cell in range(1, temp_k.shape[0]):
        temp_k[cell] = (folded.right[cell] + folded.link[cell - 1] * temp_k[cell - 1]) / folded.diagonal[cell]
    return temp_k


def links_w_m2k(thickness_m: Array, conductivity_w_mk: Array, area_ratio: Array | float = 1.0) -> Array:
    """Conductance (cells - 1, columns) [W/m2/K] between cell centres; area_ratio (cells - 1, columns): of each inner
    face to the hot face (curved walls)."""
    half = 0.5 * thickness_m / conductivity_w_mk
    links: Array = area_ratio / (half[:-1] + half[1:])
    return links


def true_rise_k(linear_rise_k: Array, capacity_j_kgk: Array, slope_j_kgk2: Array | float) -> Array:
    """Temperature rise when heat capacity grows linearly with temperature, from the rise at the starting capacity.

    The heat that went in is capacity * linear_rise; the true rise d solves capacity d + slope d2 / 2 = that heat, so
    that enthalpy is conserved whatever the step. All (cells, columns).
    """
    reach = 2.0 * slope_j_kgk2 / capacity_j_kgk
    # d = 2 r / (1 + sqrt(1 + reach r)) is the stable form of the root, good for slope 0 as well.
    return 2.0 * linear_rise_k / (1.0 + np.sqrt(1.0 + reach * linear_rise_k))
