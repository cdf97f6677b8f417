"""The page for developers names only what exists."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parent.parent
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_every_path_it_names_exists() -> None:
    named = set(re.findall(r"`((?:notation|grammar|compiler|tests|patterns|\.ci)/[\w./*-]*)`", PAGE))
    assert len(named) > 20
    assert [path for path in sorted(named) if not (ROOT / path).exists()] == []


def test_it_is_two_screens_long_at_most() -> None:
    assert len(PAGE.splitlines()) <= 90
