"""The update step against the closed form of a linear-Gaussian problem (any estimation text)."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import binom

from skills.kitchen.seeds import balanced_normals, generator
from skills.kitchen.update import Scalar, assimilate


@pytest.mark.parametrize("noise_sd", [0.5, 2.0, 10.0])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_mean_and_covariance_meet_the_kalman_update(noise_sd, seed):
    prior_mean, prior_cov = (
        np.array([150.0, 0.3, -2.0]),
        np.array([[64.0, 1.2, 2.0], [1.2, 0.09, 0.1], [2.0, 0.1, 4.0]]),
    )
    watch = np.array([1.0, 20.0, 0.5])
    lower = np.linalg.cholesky(prior_cov)
    rows = prior_mean[:, None] + lower @ balanced_normals(generator(seed, "test"), 3, 4000)
    value = 170.0
    variance = watch @ prior_cov @ watch
    gain = prior_cov @ watch / (variance + noise_sd**2)
    true_mean = prior_mean + gain * (value - watch @ prior_mean)
    true_cov = prior_cov - np.outer(gain, watch @ prior_cov)
    exact = assimilate(rows, Scalar(watch @ rows, value, noise_sd), taper=False)
    assert exact.mean(axis=1) == pytest.approx(true_mean, rel=1e-9)
    assert np.cov(exact) == pytest.approx(true_cov, rel=1e-8, abs=1e-9)
    tapered = assimilate(rows, Scalar(watch @ rows, value, noise_sd))
    assert tapered.mean(axis=1) == pytest.approx(true_mean, rel=0.01, abs=0.02)
    assert np.sqrt(np.diag(np.cov(tapered))) == pytest.approx(np.sqrt(np.diag(true_cov)), rel=0.02)


def test_many_readings_meet_the_closed_form_of_a_constant():
    """n readings of a constant with known noise: 1/var = 1/var0 + n/r."""
    rows = 20.0 + 5.0 * balanced_normals(generator(7, "constant"), 1, 2000)
    values = 24.0 + np.random.default_rng(0).standard_normal(12)
    for value in values:
        rows = assimilate(rows, Scalar(rows[0], value, 1.0), taper=False)
    precision = 1 / 25.0 + 12.0
    assert rows.var(ddof=1) == pytest.approx(1 / precision, rel=1e-9)
    assert rows.mean() == pytest.approx((20.0 / 25.0 + values.sum()) / precision, rel=1e-9)


@pytest.mark.parametrize("steps", [2, 4])
def test_a_reading_taken_in_steps_amounts_to_one_update_where_the_way_is_straight(steps):
    """Emerick and Reynolds 2013, Computers and Geosciences 55: each step with the variance times their number."""
    rows = 150.0 + np.array([[8.0], [3.0]]) * balanced_normals(generator(2, "steps"), 2, 500)
    watch = np.array([1.0, 0.4])
    once, stepped = assimilate(rows, Scalar(watch @ rows, 260.0, 2.0), taper=False), rows
    for _ in range(steps):
        stepped = assimilate(stepped, Scalar(watch @ stepped, 260.0, 2.0 * steps ** 0.5), taper=False)
    assert stepped.mean(axis=1) == pytest.approx(once.mean(axis=1), rel=1e-9)
    assert np.cov(stepped) == pytest.approx(np.cov(once), rel=1e-8, abs=1e-9)


def test_the_taper_keeps_unrelated_unknowns_their_width():
    """Four hundred readings of one thing must not use up the spread of another that has nothing to do with it."""
    rows = balanced_normals(generator(3, "apart"), 2, 200)
    rng = np.random.default_rng(1)
    for _ in range(60):
        rows = rows + 0.3 * rng.standard_normal(rows.shape) * np.array([[1.0], [0.0]])
        rows = assimilate(rows, Scalar(rows[0], 0.0, 0.3))
    assert rows[1].std() > 0.85


def test_ninety_percent_intervals_hold_the_truth_ninety_percent_of_the_time():
    """Coverage of a known linear-Gaussian problem over 400 seeds, within what a binomial of 0.9 gives but once in 500
    times on either side (a p05 to p95 band of 200 members is itself a little short: 0.895, order statistics)."""
    held = 0
    for seed in range(400):
        rng = np.random.default_rng(seed)
        truth = rng.standard_normal(2)
        rows = np.random.default_rng(seed + 10_000).standard_normal((2, 200))
        for _ in range(4):
            mix = rng.standard_normal(2)
            rows = assimilate(rows, Scalar(mix @ rows, float(mix @ truth) + 0.7 * rng.standard_normal(), 0.7))
        low, high = np.quantile(rows[0], (0.05, 0.95))
        held += low <= truth[0] <= high
    low_count, high_count = binom.ppf([0.002, 0.998], 400, 0.895)
    assert low_count <= held <= high_count


def test_balanced_normals_have_no_sampling_error_in_their_moments():
    drawn = balanced_normals(generator(1, "balance"), 10, 60)
    assert drawn.mean(axis=1) == pytest.approx(np.zeros(10), abs=1e-12)
    assert np.cov(drawn) == pytest.approx(np.eye(10), abs=1e-10)


def test_numbers_depend_on_their_purpose_alone():
    first = generator(5, "wood", "dome", 1200).standard_normal(3)
    generator(5, "other").standard_normal(1000)
    assert (generator(5, "wood", "dome", 1200).standard_normal(3) == first).all()
    assert (generator(6, "wood", "dome", 1200).standard_normal(3) != first).all()
