"""Heat in a body that is warmed or cooled from outside: slab, cylinder, ball, and lumps in between.

The body is cut into shells of equal thickness. `shape` is 0 for a slab (half of it, from the middle plane), 1 for a
long cylinder, 2 for a ball; values between stand for stubby lumps. Backward Euler: stable at any time step.
Arrays are (cells, lanes), cell 0 in the middle: the cell loop then runs over rows that lie together in memory.
"""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def shell_shares(shape: Array | float, cells: int) -> Array:
    """Share of the volume (cells, lanes) [-] in each shell, inside to outside.

    >>> shell_shares(2.0, 2).round(3).ravel().tolist()
    [0.125, 0.875]
    """
    edges = (np.arange(cells + 1, dtype=np.float64) / cells)[:, None]
    return np.diff(edges ** (np.atleast_1d(np.asarray(shape, dtype=np.float64)) + 1.0), axis=0)


def shell_links(shape: Array | float, cells: int) -> Array:
    """Conductances in the body (cells, lanes) [-], in units of conductivity x volume / radius2.

    Rows 0 to cells - 2 join neighbouring shell centres; the last joins the outer shell's centre to the surface.
    """
    power = np.atleast_1d(np.asarray(shape, dtype=np.float64))
    faces = (np.arange(1, cells + 1, dtype=np.float64) / cells)[:, None]
    links = (power + 1.0) * faces ** power * cells
    links[-1] *= 2.0
    return links


def fold_chain(diagonal: Array, right: Array, links: Array) -> Array:
    """Fold each node of a chain into the next, in place, and give the ratios (nodes - 1, lanes) that unfold it.

    diagonal, right (nodes, lanes); links (nodes - 1, lanes) between neighbours, already counted in the diagonal.
    Source: tridiagonal elimination (any numerical-analysis text).
    """
    ratios = np.empty_like(links)
    scratch = np.empty_like(right[0])
    for node in range(len(diagonal) - 1):
        ratio = np.divide(links[node], diagonal[node], out=ratios[node])
        diagonal[node + 1] -= np.multiply(ratio, links[node], out=scratch)
        right[node + 1] += np.multiply(ratio, right[node], out=scratch)
    return ratios


def unfold_chain(diagonal: Array, right: Array, ratios: Array, last: Array) -> Array:
    """Values (nodes, lanes) of a folded chain whose last node is known to be `last` (lanes,). Overwrites `right`."""
    scratch = np.empty_like(last)
    right[:-1] /= diagonal[:-1]
    right[-1] = last
    for node in range(len(diagonal) - 2, -1, -1):
        right[node] += np.multiply(ratios[node], right[node + 1], out=scratch)
    return right


def step_body(temp_k: Array, shape: Array | float, radius_m: Array | float, conductivity_w_mk: Array | float,
              diffusivity_m2_s: Array | float, film_w_m2k: Array | float, outside_k: Array | float,
              dt_s: float) -> Array:
    """One time step of a body in a fluid: temperatures (cells, lanes) [K] after `dt_s`.

    radius_m [m]: half-thickness or radius; film_w_m2k [W/m2/K]. Holds for constant properties, no evaporation.
    """
    cells = len(temp_k)
    radius = np.atleast_1d(np.asarray(radius_m, dtype=np.float64))
    power = np.atleast_1d(np.asarray(shape, dtype=np.float64))
    storage = shell_shares(shape, cells) * (radius ** 2 / (diffusivity_m2_s * dt_s))
    links = shell_links(shape, cells) * np.ones_like(temp_k)
    biot = film_w_m2k * radius / conductivity_w_mk
    film = (power + 1.0) * biot
    outer = links[-1] * film / (links[-1] + film)
    diagonal = storage * np.ones_like(temp_k)
    right = diagonal * temp_k
    diagonal[:-1] += links[:-1]
    diagonal[1:] += links[:-1]
    diagonal[-1] += outer
    right[-1] += outer * outside_k
    ratios = fold_chain(diagonal, right, links[:-1])
    return unfold_chain(diagonal, right, ratios, right[-1] / diagonal[-1])


def march_body(start: Array, shape: float, radius_m: float, conductivity_w_mk: Array, diffusivity_m2_s: Array,
               film_w_m2k: Array, outside: Array, grid_s: float, marks: int, parts: int = 1, cells: int = 16,
               inner: tuple[float, float] | None = None, stir_every: int = 0) -> Array:
    """Many steps of `step_body` in an outside that does not change: temperatures (marks + 1, cells, lanes), K or degC.

    Between two marks [grid_s] lie `parts` steps; they are one matrix a lane, which costs far less than so many solves.
    start, conductivity_w_mk, diffusivity_m2_s, film_w_m2k, outside (lanes,); even at the start. inner: film and outside
    of an open face at cell 0. stir_every: mixed through after so many marks; 0: never.
    """
    lanes = len(start)
    shares, links = shell_shares(shape, cells)[:, 0], shell_links(shape, cells)[:, 0]
    # As step_body: in units of conductivity x volume / radius2.
    matrix, pull = np.zeros((lanes, cells, cells)), np.zeros((lanes, cells))
    each = np.arange(cells)
    storage = shares * (radius_m ** 2 / (diffusivity_m2_s[:, None] * (grid_s / parts)))
    matrix[:, each, each] += storage
    matrix[:, each[:-1], each[:-1]] += links[:-1]
    matrix[:, each[1:], each[1:]] += links[:-1]
    matrix[:, each[:-1], each[1:]] -= links[:-1]
    matrix[:, each[1:], each[:-1]] -= links[:-1]
    film = (shape + 1.0) * film_w_m2k * radius_m / conductivity_w_mk
    outer = links[-1] * film / (links[-1] + film)
    matrix[:, -1, -1] += outer
    pull[:, -1] += outer * outside
    if inner is not None:
        top = inner[0] * radius_m / conductivity_w_mk
        top = links[-1] * top / (links[-1] + top)
        matrix[:, 0, 0] += top
        pull[:, 0] += top * inner[1]
    inverse = np.linalg.inv(matrix)
    once, shift = inverse * storage[:, None, :], np.matmul(inverse, pull[:, :, None])
    step, push = once, shift
    for _ in range(parts - 1):
        step, push = np.matmul(once, step), np.matmul(once, push) + shift
    temp = np.repeat(start[:, None], cells, axis=1)[:, :, None]
    run = np.empty((marks + 1, cells, lanes))
    run[0] = temp[:, :, 0].T
    for mark in range(1, marks + 1):
        temp = np.matmul(step, temp) + push
        if stir_every and mark % stir_every == 0:
            temp = np.repeat(np.matmul(shares, temp)[:, :, None], cells, axis=1)
        run[mark] = temp[:, :, 0].T
    return run


def surface_k(temp_k: Array, shape: Array | float, radius_m: Array | float, conductivity_w_mk: Array | float,
              film_w_m2k: Array | float, outside_k: Array | float) -> Array:
    """Temperature (lanes,) [K] of the outer face, from the outer shell and the film."""
    cells = len(temp_k)
    inner = shell_links(shape, cells)[-1]
    film = (np.asarray(shape, dtype=np.float64) + 1.0) * film_w_m2k * radius_m / conductivity_w_mk
    face: Array = (inner * temp_k[-1] + film * outside_k) / (inner + film)
    return face


def middle_k(temp_k: Array, shape: Array | float) -> Array:
    """Temperature (lanes,) [K] in the very middle: the parabola through the two inner shells, flat at the middle."""
    middle: Array = temp_k[0] - (temp_k[1] - temp_k[0]) * middle_weight(shape)
    return middle


def middle_weight(shape: Array | float) -> Array:
    """How far (lanes,) [-] the middle lies beyond the innermost shell, in differences of the two inner shells."""
    power = np.asarray(shape, dtype=np.float64)
    # Shell means of r2 over the two inner shells, in units of the shell thickness squared.
    first = (power + 1.0) / (power + 3.0)
    second = first * (2.0 ** (power + 3.0) - 1.0) / (2.0 ** (power + 1.0) - 1.0)
    weight: Array = first / (second - first)
    return weight


def seconds_to_reach(target_k: float, start_k: float, outside_k: float, half_thickness_m: float,
                     conductivity_w_mk: float, diffusivity_m2_s: float, film_w_m2k: float, shape: float = 0.0,
                     horizon_s: float = 200_000.0) -> float:
    """When the slowest point of a body passes a temperature [s]; inf beyond the horizon. Trays of food that cool, too.

    half_thickness_m: half the depth if both faces are cooled, the whole depth if one is. Two runs, one at half the
    step, are extrapolated to no step: backward Euler's error is of first order in time.
    """
    biot = film_w_m2k * half_thickness_m / conductivity_w_mk
    slow_s = half_thickness_m ** 2 / diffusivity_m2_s * (0.4 + 1.0 / biot) / (shape + 1.0)
    coarse, fine = (_first_passage_s(target_k, start_k, outside_k, half_thickness_m, conductivity_w_mk,
                                     diffusivity_m2_s, film_w_m2k, shape, horizon_s, slow_s / steps)
                    for steps in (100.0, 200.0))
    return 2.0 * fine - coarse if np.isfinite(coarse) and np.isfinite(fine) else float("inf")


def _first_passage_s(target_k: float, start_k: float, outside_k: float, half_thickness_m: float,
                     conductivity_w_mk: float, diffusivity_m2_s: float, film_w_m2k: float, shape: float,
                     horizon_s: float, dt_s: float) -> float:
    temp = np.full((32, 1), start_k, dtype=np.float64)
    sign = -1.0 if outside_k < start_k else 1.0
    if sign * start_k >= sign * target_k:
        return 0.0
    at_s, before = 0.0, start_k
    while at_s < horizon_s:
        temp = step_body(temp, shape, half_thickness_m, conductivity_w_mk, diffusivity_m2_s, film_w_m2k, outside_k,
                         dt_s)
        at_s += dt_s
        now = float(middle_k(temp, shape)[0])
        if sign * now >= sign * target_k:
            # Both runs must lie on one smooth curve for the extrapolation: the approach is exponential.
            share = np.log((before - outside_k) / (target_k - outside_k)) / np.log(
                (before - outside_k) / (now - outside_k))
            return float(at_s - dt_s * (1.0 - share))
        before = now
    return float("inf")
