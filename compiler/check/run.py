"""The checks of a weave, all of them; in: the expanded pattern, out: diagnostics.

Everything here is linear in rings and links and works on the columns of the weave. A piece that could not
be expanded whole is left alone: what is missing from it was told where it went missing.
"""

from __future__ import annotations

from compiler.check.adjacency import adjacency
from compiler.check.budget import budget
from compiler.check.collect import Collector, Names
from compiler.check.doubling import doubling
from compiler.check.eyes import unused_eyes
from compiler.check.fit import fit, wide_collars
from compiler.check.held import held
from compiler.weave import Weave
from notation.diagnostic import Diagnostic


def check(weave: Weave) -> tuple[Diagnostic, ...]:
    """What is wrong or doubtful about the pieces of a pattern, piece by piece and then the kit."""
    collector = Collector(weave)
    for piece in weave.pieces:
        if piece.broken:
            continue
        names = Names(weave, piece)
        rows = adjacency(piece)
        loose = held(weave, piece, rows, names, collector)
        unused_eyes(weave, piece, rows, collector, frozenset(loose))
        doubling(weave, piece, rows, names, collector)
        fit(weave, piece, rows, names, collector)
        wide_collars(weave, piece, rows, names, collector)
    budget(weave, collector)
    return collector.diagnostics()
