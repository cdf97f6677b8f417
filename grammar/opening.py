"""A header line on its way: what `grammar.blocks` needs to make a block of it once its statements are known."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct

from notation.source import Span


class Opening(Struct, frozen=True, kw_only=True):
    """A header without its block."""

    word: str
    """`unit`, `piece`, `variant`, `line`, ..., `if`, `else if`, `else`, `pass`."""
    make: Callable[..., Any]
    """Given `body`, the block; for `if` also `otherwise` and `else_span`; for `pass` `body` is its twin lines."""
    span: Span
