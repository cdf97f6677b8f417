"""A header line on its way: what `grammar.blocks` needs to make a block of it once its statements are known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from notation.source import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A header without its block."""

    word: str
    """`unit`, `piece`, `line`, ..., `if`, `else if`, `else`, `pass`."""
    make: Callable[..., Any]
    """Given `body`, the block; for `if` also `otherwise` and `else_span`; for `pass` `body` is its twin lines."""
    span: Span
