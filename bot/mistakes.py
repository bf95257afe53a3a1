"""What a user can do wrong. Light, so that a command can tell a mistake without reading in what made it."""
from __future__ import annotations


class MistakeError(Exception):
    """What was asked for cannot be done; the text says in one line why, and what to do instead."""
