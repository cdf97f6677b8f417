"""How rings look in figures: by what they do in the step, and by their kind.

In: a mark and the number of a kind. Out: a `Look` in points and colours. Marks differ by tone, by the weight of the
outline and by the line along the wire, so that they are told apart in grey print and by eyes that mistake red for
green: new is dark with a light line along it, carried is light in a heavy dark outline, passed is of a middle
tone with a broken line, placed is pale in a thin outline.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.booklet.figuretypes import Mark
from compiler.booklet.page import Color
from compiler.booklet.style import INK, NEW, PAPER, PASSED, PLACED


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How the wire of a ring is drawn."""

    outline: Color
    outline_width: float
    """On each side, inside the wire, in points."""
    wire: Color
    line: Color | None = None
    """Of the line along the wire."""
    line_share: float = 0.0
    """Its width as a share of the wire's, without the outline."""
    broken: bool = False
    """Whether that line is dashed."""
    lit: bool = True
    """Whether the line lies towards the light, as a gleam on round wire, and not along the middle."""
    least_line: float = 0.0
    """The line is at least so wide, in points."""


def blend(a: Color, b: Color, share: float) -> Color:
    """A colour between two, `share` of the way from a to b."""
    return Color(
        round(a.red + (b.red - a.red) * share),
        round(a.green + (b.green - a.green) * share),
        round(a.blue + (b.blue - a.blue) * share),
    )


_GLEAM = 0.36
_PLACED_OUTLINE = blend(INK, PAPER, 0.42)
_PALE_TONES = (blend(PLACED, PAPER, 0.45), blend(PLACED, INK, 0.14), PAPER, blend(PLACED, INK, 0.34))
"""By kind of ring: tones of what is in place already."""
_FINISHED_TONES = (
    blend(PASSED, PAPER, 0.3),
    blend(NEW, PAPER, 0.34),
    blend(PAPER, INK, 0.1),
    blend(INK, PAPER, 0.22),
)
"""By kind of ring, in a picture of the finished piece; told apart in grey too."""

_BY_MARK = {
    Mark.NEW: Look(
        outline=INK, outline_width=0.9, wire=NEW, line=PAPER, line_share=0.26, least_line=0.6, lit=False
    ),
    Mark.CARRIED: Look(
        outline=NEW, outline_width=1.15, wire=blend(NEW, PAPER, 0.86), line=PAPER, line_share=_GLEAM
    ),
    Mark.PASSED: Look(
        outline=INK,
        outline_width=0.6,
        wire=PASSED,
        line=PAPER,
        line_share=0.36,
        least_line=0.5,
        broken=True,
        lit=False,
    ),
}


def ring_look(mark: Mark | None, kind: int) -> Look:
    """The look of a ring of the given kind; no mark is the look in a finished piece."""
    if mark is None:
        tone = _FINISHED_TONES[kind % len(_FINISHED_TONES)]
        return Look(
            outline=INK, outline_width=0.5, wire=tone, line=blend(tone, PAPER, 0.65), line_share=_GLEAM
        )
    if mark is Mark.PLACED:
        tone = _PALE_TONES[kind % len(_PALE_TONES)]
        return Look(
            outline=_PLACED_OUTLINE,
            outline_width=0.35,
            wire=tone,
            line=blend(tone, PAPER, 0.7),
            line_share=_GLEAM,
        )
    return _BY_MARK[mark]
