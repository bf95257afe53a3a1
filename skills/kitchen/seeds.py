"""Random numbers that depend on what they are for, never on when they are drawn or on what was drawn before."""
from __future__ import annotations

import hashlib

import numpy as np


def generator(seed: int, *tags: object) -> np.random.Generator:
    """A generator for one purpose: same seed and tags, same numbers, whatever else has happened."""
    text = "|".join([str(seed), *map(str, tags)])
    key = int.from_bytes(hashlib.blake2b(text.encode(), digest_size=16).digest(), "little")
    return np.random.Generator(np.random.Philox(key=key))


def balanced_normals(rng: np.random.Generator, rows: int, members: int) -> np.ndarray:
    """Standard normals (rows, members) whose sample mean is 0 and whose sample covariance is the identity.

    Takes the sampling error out of the ensemble's first two moments; needs more members than rows.
    """
    raw = rng.standard_normal((rows, members))
    raw -= raw.mean(axis=1, keepdims=True)
    lower = np.linalg.cholesky(raw @ raw.T / (members - 1))
    white: np.ndarray = np.linalg.solve(lower, raw)
    return white
