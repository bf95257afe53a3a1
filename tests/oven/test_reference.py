"""The oven's own step against a general solver of stiff equations on the same physics."""

from __future__ import annotations

import numpy as np
import pytest

from skills.oven import model
from tests.bench.bench_update import HOURS, MEMBERS, cooling, stiff


@pytest.mark.parametrize("member", [0, 17])
def test_two_hours_of_settling_end_where_a_stiff_solver_ends(member):
    """scipy.integrate.solve_ivp (BDF, rtol 1e-5), cavity nodes as quick states; 300 s steps are good to 1 K."""
    numbers, built, state = cooling()
    for _ in range(round(HOURS * 12)):
        state, _ = model.step(state, numbers, built, model.Inputs(np.zeros(MEMBERS)), 300.0)
    assert state.temp_k[0, 2 * MEMBERS + member] == pytest.approx(stiff(member, *cooling()), abs=0.5)
