"""Laws of the expansion: any text gives a weave and diagnostics, and a piece that is whole is sound.

The texts are cases and patterns of this project with lines left out, doubled, exchanged and moved, words exchanged
and numbers changed; the same ones in every run.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from compiler.expand.driver import expand
from compiler.report import as_text
from compiler.weave import PieceWeave
from grammar.parse import parse
from notation.margin import Use
from notation.source import Source

ROOT = Path(__file__).parents[3]
PATHS = sorted(
    path
    for folder in (ROOT / "tests/cases/errors", ROOT / "patterns")
    for path in folder.rglob("*.annulet")
    if path.parent.name != "limits"
)
USED = (ROOT / "tests/cases/errors/units/lib/rhombus.annulet").read_text(encoding="utf-8")
TEXTS_A_ROUND = 400


def spoilt(texts: list[str], random_: random.Random) -> str:
    """One of the texts with a few things done to it."""
    lines = random_.choice(texts).split("\n")
    for _ in range(random_.randint(1, 4)):
        at, other = random_.randrange(len(lines)), random_.randrange(len(lines))
        what = random_.randrange(5)
        if what == 0:
            from_another = random_.choice(random_.choice(texts).split("\n"))
            indent = len(lines[at]) - len(lines[at].lstrip())
            lines.insert(at, " " * indent + from_another.strip())
        elif what == 1 and len(lines) > 1:
            lines.pop(at)
        elif what == 2:
            words = lines[at].split(" ")
            words[random_.randrange(len(words))] = random_.choice(random_.choice(texts).split())
            lines[at] = " ".join(words)
        elif what == 3:
            lines[at], lines[other] = lines[other], lines[at]
        else:
            number = str(random_.choice((0, 1, 2, 3, 7, 12, 99)))
            lines[at] = lines[at].replace(str(random_.randint(1, 6)), number)
    return "\n".join(lines)


def assert_sound(piece: PieceWeave) -> None:
    """What holds of every piece that is not broken."""
    pairs = [frozenset(pair) for pair in zip(piece.link_a, piece.link_b, strict=True)]
    assert len(set(pairs)) == len(pairs), "two rings are linked at most once"
    assert all(len(pair) == 2 for pair in pairs), "no ring is linked with itself"
    rings = [ring for ring in zip(piece.group, piece.member, piece.companion, strict=True) if ring[0] >= 0]
    assert len(set(rings)) == len(rings), "a member number is given once"
    motions = piece.motions
    for motion in range(len(motions.verb)):
        path = motions.path_node[motions.path_start[motion] : motions.path_start[motion + 1]]
        assert all(piece.born[node] <= motion for node in path), "what is gone through is there"
    for keys in ([step.key for step in piece.steps], [group.key for group in piece.groups]):
        assert len(set(keys)) == len(keys), "a key is given once"
    ends = [(step.first, step.stop) for step in piece.steps]
    assert ends == sorted(ends) and all(first <= stop for first, stop in ends), "steps follow one another"
    covered = [motion for first, stop in ends for motion in range(first, stop)]
    assert covered == list(range(len(motions.verb))), "every motion is in one step"


@pytest.mark.parametrize("seed", range(5))
def test_any_text_gives_a_result_and_whole_pieces_are_sound(seed: int) -> None:
    texts = [path.read_text(encoding="utf-8") for path in PATHS]
    random_ = random.Random(seed)
    whole = 0
    for _ in range(TEXTS_A_ROUND):
        source = Source(name="spoilt.annulet", text=spoilt(texts, random_))
        pattern, told = parse(source)
        sources = {source.name: source}
        library = {}
        for statement in pattern.statements:
            if isinstance(statement, Use):
                used = Source(name="used.annulet", text=USED)
                sources[used.name] = used
                library[(source.name, statement.path.value)] = parse(used)[0]
        weave, in_expansion = expand(pattern, library)
        as_text((*told, *in_expansion), sources)
        for piece in weave.pieces:
            assert len(piece.kind) == len(piece.group) == len(piece.member) == len(piece.born)
            if not piece.broken:
                assert_sound(piece)
                whole += 1
    assert whole > TEXTS_A_ROUND // 10, "the texts are not all spoilt beyond use"
