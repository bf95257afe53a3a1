"""The forecast and the update step beside general tools that could do the same work, as ratios in one run.

    python -m tests.bench.bench_update

(a) two hours of an oven's cooling for some members: skills/oven/model.step on all at once, against
    scipy.integrate.solve_ivp (stiff, the same columns and exchange) member by member; and how far apart they end.
(b) one reading into the ensemble: skills/kitchen/update.assimilate against filterpy's ensemble Kalman filter and
    against the iterative_ensemble_smoother's ESMDA, with the same unknowns and members.
"""
from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
from filterpy.kalman import EnsembleKalmanFilter
from iterative_ensemble_smoother import ESMDA
from scipy.integrate import solve_ivp

from skills.kitchen.update import Scalar, assimilate
from skills.oven import model
from skills.oven.parameters import OvenNumbers, OvenWords, prior
from skills.physics.constants import STEFAN_BOLTZMANN_W_M2K4
from skills.physics.materials import FIRECLAY

MEMBERS = 100
SLOW = 6                       # members that the stiff solver is timed on; its time is scaled to all
HOURS = 2.0


def cooling() -> tuple[OvenNumbers, model.Built, model.OvenState]:
    mean, sd = prior(OvenWords(0.9, 0.06, 0.10, 0.10, 0.05))
    theta = mean[:, None] + 0.3 * sd[:, None] * np.random.default_rng(1).standard_normal((len(mean), MEMBERS))
    numbers = OvenNumbers(theta)
    built = model.build(numbers, np.full(MEMBERS, 0.05))
    state = replace(model.start(numbers), flame_j=np.full(MEMBERS, 60e6))
    for _ in range(36):
        state, _ = model.step(state, numbers, built, model.Inputs(np.ones(MEMBERS)), 300.0)
    none = np.zeros(MEMBERS)
    return numbers, built, replace(state, flame_j=none, ember_j=none, fresh_j=none, water=0.0 * state.water)


def stiff(member: int, numbers: OvenNumbers, built: model.Built, state: model.OvenState) -> float:
    """The same member by method of lines; cavity nodes as quick states. Ends with the dome's first cell [K]."""
    columns = member + MEMBERS * np.arange(3)
    half, store, slope = (each[:, columns] for each in (built.half_20_m2k_w, built.store_20_j_m2k, built.k_slope_1_k))
    ratio, far_w, far_k = built.face_ratio[:, columns], built.far_w_m2k[columns], built.far_k[columns]
    star_m2, area = built.star_m2[:, member], built.area_m2[:, member]
    film, ambient = float(numbers["inner_w_m2k"][member]), float(numbers["ambient_k"][member])
    hold = float(built.floor_m2[member] * numbers["across_m"][member] * 0.35 * model.AIR_STORE_J_M3K)
    lateral, share = built.lateral_w_m2k[:, member], area[1] / area[0]

    def rate(_: float, y: np.ndarray) -> np.ndarray:
        temp, star, air = y[:-2].reshape(model.CELLS, 3), y[-2], y[-1]
        resist = half / (1.0 + (temp - 293.15) * slope)
        # The face has no store: its flux through half a cell meets film and radiation (two passes on the coefficient).
        face = temp[0].copy()
        for _pass in range(3):
            radiant = star_m2 * STEFAN_BOLTZMANN_W_M2K4 * (face ** 2 + star ** 2) * (face + star) / area
            face = (temp[0] / resist[0] + radiant * star + film * air) / (1.0 / resist[0] + radiant + film)
        flow = np.zeros((model.CELLS + 1, 3))
        flow[0] = (face - temp[0]) / resist[0]
        flow[1:-1] = ratio * (temp[:-1] - temp[1:]) / (resist[:-1] + resist[1:])
        flow[-1] = far_w * (temp[-1] - far_k)
        gain = flow[:-1] - flow[1:]
        across = lateral * (temp[:model.BRICK_CELLS, 0] - temp[:model.BRICK_CELLS, 1])
        gain[:model.BRICK_CELLS, 1] += across
        gain[:model.BRICK_CELLS, 0] -= across * share
        change = gain / (store * (1.0 + FIRECLAY.heat_capacity_slope_1_k * (temp - 293.15)))
        through = STEFAN_BOLTZMANN_W_M2K4 * (star ** 2 + ambient ** 2) * (star + ambient)
        yard = built.mouth_m2[member] / (1.0 / numbers["door_w_m2k"][member] + 1.0 / through)
        leak = numbers["leak_w_k"][member] * built.mouth_m2[member] / 0.11
        star_rate = ((radiant * area * (face - star)).sum() - yard * (star - ambient)) / (0.02 * hold)
        air_rate = ((film * area * (face - air)).sum() - leak * (air - ambient)) / hold
        return np.concatenate([change.reshape(-1), [star_rate, air_rate]])

    y0 = np.concatenate([state.temp_k[:, columns].reshape(-1), [state.star_k[member], state.air_k[member]]])
    done = solve_ivp(rate, (0.0, HOURS * 3600), y0, method="BDF", rtol=1e-5, atol=1e-2)
    return float(done.y[2, -1])


def main() -> None:
    numbers, built, state = cooling()
    begun = time.perf_counter()
    ours = state
    for _ in range(round(HOURS * 12)):
        ours, _ = model.step(ours, numbers, built, model.Inputs(np.zeros(MEMBERS)), 300.0)
    mine = time.perf_counter() - begun
    begun = time.perf_counter()
    theirs = [stiff(member, numbers, built, state) for member in range(SLOW)]
    slow = (time.perf_counter() - begun) / SLOW * MEMBERS
    apart = np.abs(np.array(theirs) - ours.temp_k[0, 2 * MEMBERS:2 * MEMBERS + SLOW])
    print(f"forecast of {HOURS:.0f} h, {MEMBERS} members: {1e3 * mine:.0f} ms; solve_ivp member by member "
          f"{1e3 * slow:.0f} ms: ratio {mine / slow:.4f}; dome's face at the end {apart.max():.2f} K apart at most")
    rows, members = 80, 200
    rng = np.random.default_rng(2)
    ensemble = rng.standard_normal((rows, members))
    predicted = ensemble[:5].sum(axis=0)
    times = {}
    begun = time.perf_counter()
    for _ in range(20):
        assimilate(ensemble, Scalar(predicted, 1.0, 0.5))
    times["ours"] = (time.perf_counter() - begun) / 20
    other = EnsembleKalmanFilter(np.zeros(rows), np.eye(rows), dim_z=1, dt=1.0, N=members,
                                 hx=lambda x: np.array([x[:5].sum()]), fx=lambda x, _dt: x)
    other.sigmas, other.R = ensemble.T.copy(), np.array([[0.25]])
    begun = time.perf_counter()
    for _ in range(3):
        other.update(np.array([1.0]))
    times["filterpy EnKF"] = (time.perf_counter() - begun) / 3
    begun = time.perf_counter()
    for _ in range(5):
        smoother = ESMDA(covariance=np.array([0.25]), observations=np.array([1.0]), alpha=1, seed=1)
        smoother.prepare_assimilation(Y=predicted[None])
        smoother.assimilate_batch(X=ensemble)
    times["ESMDA"] = (time.perf_counter() - begun) / 5
    for name, spent in times.items():
        print(f"update of {rows} unknowns, {members} members, one reading: {name} {1e3 * spent:.2f} ms, ours "
              f"against it {times['ours'] / spent:.3f}")


if __name__ == "__main__":
    main()
