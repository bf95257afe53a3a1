"""Whose food rules a school works under: the names that commands and transcripts take."""
from __future__ import annotations

from typing import Literal

Region = Literal["uk", "scotland", "us", "anz", "eu"]
