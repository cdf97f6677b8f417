"""What a figure may say under itself: values alone, so that words need none of the drawing."""

from __future__ import annotations

from enum import Enum


class Note(Enum):
    """A sentence to stand under a figure."""

    CUT_OPEN = "cut-open"
    """Where the work closes on itself it is drawn cut open."""
    SIGNS = "signs"
    """The bodies of findings are signs, not to scale."""
    LEVEL = "level"
    """The piece is turned against the way it is worn, so that its rows lie level."""
    ROUND = "round"
    """It is turned in its plane since the step before, so that the rows that are worked on lie level."""
    INSET = "inset"
    """A part is drawn once more, larger."""
