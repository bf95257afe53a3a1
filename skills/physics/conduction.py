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
    """The folded system: `own` and `right` (cells, columns) of each cell with all behind it; conductance `link` and
    `share` = link / (own + link) (cells - 1, columns) to the cell before."""
    own: Array
    right: Array
    link: Array
    share: Array

    @property
    def rest_k(self) -> Array:
        """First-cell temperature (columns,) [K] at the end of the step if no heat crosses the face."""
        rest: Array = self.right[0] / self.own[0]
        return rest

    @property
    def rise_k_m2_w(self) -> Array:
        """Rise of the first cell (columns,) [K m2/W] for each W/m2 into the face."""
        rise: Array = 1.0 / self.own[0]
        return rise


def eliminate(storage_w_m2k: Array, link_w_m2k: Array, right_w_m2: Array, far_w_m2k: Array | float,
              far_k: Array | float) -> Elimination:
    """Fold a step of the heat equation into the face cell.

    storage_w_m2k (cells, columns): heat capacity of each cell over the time step; link_w_m2k (cells - 1, columns):
    between neighbouring cell centres; right_w_m2 (cells, columns): storage times the temperature before the step, and
    heat put into the cells; far_w_m2k, far_k (columns,): film and surroundings behind the last cell. Areas are those
    of the face.
    Source: tridiagonal elimination (any numerical-analysis text).
    """
    own, right = storage_w_m2k.copy(), right_w_m2.copy()
    share = np.empty_like(link_w_m2k)
    own[-1] += far_w_m2k
    right[-1] += far_w_m2k * far_k
    for cell in range(len(own) - 1, 0, -1):
        part = share[cell - 1]
        np.add(own[cell], link_w_m2k[cell - 1], out=part)
        np.divide(link_w_m2k[cell - 1], part, out=part)
        own[cell - 1] += part * own[cell]
        right[cell - 1] += part * right[cell]
    return Elimination(own, right, link_w_m2k, share)


def substitute(folded: Elimination, flux_w_m2: Array | float) -> Array:
    """Temperatures (cells, columns) [K] after the step, with `flux_w_m2` (columns,) into the face."""
    temp_k = np.empty_like(folded.right)
    temp_k[0] = (folded.right[0] + flux_w_m2) / folded.own[0]
    # right / (own + link) for all cells at once; the recursion then needs two operations a cell.
    behind = folded.right[1:] * (folded.share / folded.link)
    for cell in range(1, len(temp_k)):
        np.multiply(folded.share[cell - 1], temp_k[cell - 1], out=temp_k[cell])
        temp_k[cell] += behind[cell - 1]
    return temp_k


def links_w_m2k(half_m2k_w: Array, area_ratio: Array | float = 1.0) -> Array:
    """Conductance (cells - 1, columns) [W/m2/K] between cell centres.

    half_m2k_w (cells, columns) [m2 K/W]: resistance of half a cell; area_ratio (cells - 1, columns): of each inner face
    to the hot face (curved walls).
    """
    links: Array = area_ratio / (half_m2k_w[:-1] + half_m2k_w[1:])
    return links


def true_rise_k(linear_rise_k: Array, reach_1_k: Array) -> Array:
    """Temperature rise when heat capacity grows linearly with temperature, from the rise at the starting capacity.

    reach_1_k: slope of the capacity over the starting capacity [1/K]. The heat that went in is C r; the true rise d
    solves C d + C reach d2 / 2 = C r, so that enthalpy is conserved whatever the step. All (cells, columns).
    """
    # d = 2 r / (1 + sqrt(1 + 2 reach r)): the stable form of the root, good for slope 0 as well.
    root = linear_rise_k * reach_1_k
    root *= 2.0
    root += 1.0
    np.maximum(root, 0.0, out=root)  # a fall past where the linear law gives heat back: take the law's own limit
    np.sqrt(root, out=root)
    root += 1.0
    np.divide(linear_rise_k, root, out=root)
    root *= 2.0
    return root
