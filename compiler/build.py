"""The stages from the checked weave to the booklet, in order.

    Weave -> Words -> Document -> PDF bytes
        word     compose     typeset

What comes before is in `compiler.pipeline`.
"""

from __future__ import annotations

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import FigureSource
from compiler.booklet.glyphs import check_glyphs
from compiler.booklet.typeset import typeset
from compiler.pipeline import Checked
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.words import word
from notation.diagnostic import Diagnostic


def not_printable(checked: Checked, timings: Timings) -> tuple[Diagnostic, ...]:
    """The texts of a pattern that cannot be printed: a check that needs the fonts, and so is not in `check`."""
    if checked.weave is None:
        return ()
    with timings.stage("glyphs"):
        loaded = checked.loaded
        return check_glyphs(checked.weave, (loaded.pattern, *loaded.library.values()))


def build(weave: Weave, figures: FigureSource, options: Options, timings: Timings) -> bytes:
    """The booklet of a pattern without errors, as a PDF file."""
    with timings.stage("word"):
        words = word(weave)
    with timings.stage("compose"):
        document = compose(weave, words, figures, options)
    with timings.stage("typeset"):
        return typeset(document)
