"""Trays and pots are chilled by the conduction that heats the dish: the same steps, many at a time.

The steps themselves are held against series and worked examples in tests/published/test_transient_meat.py, the trays
against ASHRAE in tests/published/test_safety_ashrae_slab.py.
"""
from __future__ import annotations

import numpy as np
import pytest

from skills.physics.transient import march_body, step_body
from skills.safety import chill

K, RHO, C = chill.CONDUCTIVITY_W_MK, chill.DENSITY_KG_M3, chill.HEAT_CAPACITY_J_KGK


@pytest.mark.parametrize("shape", [0.0, 1.0, 1.5, 2.0])
def test_a_march_is_so_many_steps_of_the_dish(shape: float) -> None:
    film, sink = np.array([10.0, 200.0]), np.array([4.0, 1.0])
    start, k = np.array([63.0, 80.0]), np.array([0.5, 0.9])
    run = march_body(start, shape, 0.04, k, k / (RHO * C), film, sink, 120.0, 30, parts=3, cells=16)
    temp = np.repeat(start[None, :], 16, axis=0)
    for _ in range(30 * 3):
        temp = step_body(temp, shape, 0.04, k, k / (RHO * C), film, sink, 40.0)
    assert run[-1] == pytest.approx(temp, abs=1e-8)
