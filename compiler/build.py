"""The stages from the checked weave to the booklet, in order.

    Weave -> Words -> Document -> PDF bytes
        word     compose     typeset

What comes before is in `compiler.pipeline`.
"""

from __future__ import annotations

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import NO_FIGURES
from compiler.booklet.typeset import typeset
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.words import word


def build(weave: Weave, options: Options, timings: Timings) -> bytes:
    """The booklet of a pattern without errors, as a PDF file."""
    with timings.stage("word"):
        words = word(weave)
    with timings.stage("compose"):
        document = compose(weave, words, NO_FIGURES, options)
    with timings.stage("typeset"):
        return typeset(document)
