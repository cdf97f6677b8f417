"""How tight the pieces of a library sit; in: proved pieces and the kept table, out: the table brought up to date."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import ROUND_FLOOR, Decimal

from compiler.library.entries import Proved
from compiler.library.fitted import Fitted, known
from compiler.settle.search import Budget, slack

_STEP = Budget(last=300, work=150_000)
"""Work for each step of a slack, as in `annulet fit --stock`."""


def measured(
    pieces: Sequence[Proved],
    table: Mapping[tuple[str, str], Fitted],
    progress: Callable[[Proved], None],
) -> tuple[Fitted, ...]:
    """A row for each piece: the kept one where it still holds, else from a search. `progress` is told before each."""
    rows = []
    for piece in pieces:
        factor = known(table, piece.pattern, piece.piece, piece.key)
        if factor is None:
            progress(piece)
            found = Decimal(repr(slack(piece.problem, piece.layout, _STEP)))
            factor = found.quantize(Decimal("0.01"), ROUND_FLOOR)
        rows.append(Fitted(pattern=piece.pattern, piece=piece.piece, slack=factor, key=piece.key))
    return tuple(rows)
