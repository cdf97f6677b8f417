"""The checks agree with a second checker that shares nothing with them, on whole, spoilt and made up weaves."""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest
from slow_check import disagreements, judged

from compiler.check.run import check
from compiler.expand.driver import expand
from compiler.loader import load
from compiler.weave import Weave
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.source import Source
from tests.fuzz import LIBRARY, made

ROOT = Path(__file__).parents[3]
PATTERNS = sorted((ROOT / "patterns").rglob("*.annulet"))


def agreed(weave: Weave) -> tuple[Diagnostic, ...]:
    told = check(weave)
    assert disagreements(weave, told) == []
    return told


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_of_a_pattern_of_the_library(path: Path) -> None:
    loaded = load(str(path))
    weave, _ = expand(loaded.pattern, loaded.library)
    agreed(weave)
    assert judged(weave).slips == []


def made_up(chance: random.Random) -> str:
    """A pattern of passes by chance: pairs and single rings, twins that may go their own way, parts, a kit."""
    body, names = [], []
    for number in range(chance.randint(1, 9)):
        name = f"g{number}"
        size = chance.choice((1, 1, 2, 2, 3))
        kind = chance.choice(("link", "small"))
        what = f"{size} single {kind}" if size == 1 else f"{size} {kind}"
        through = chance.sample(names, min(len(names), chance.randint(0, 3)))
        if not through:
            body.append(f"    take {what} as {name}" if size < 3 else f"    take 1 single {kind} as {name}")
        elif size > 1 and chance.random() < 0.4:
            own = chance.sample(names, chance.randint(1, min(len(names), 3)))
            body += [
                f"    pass {what} as {name} through {', '.join(through)}:",
                f"        twin through {', '.join(own)}",
            ]
        else:
            carried = chance.choice(("", "", f" carrying 1 single {kind} as c{number}"))
            body.append(f"    pass {what} as {name} through {', '.join(through)}{carried}")
            names += [f"c{number}"] if carried else []
        if chance.random() < 0.2:
            body.append(f"    hang drop from {name}")
        names.append(name)
    parts = chance.choice(("", "", " in 2 parts"))
    times = chance.choice(("", " made 2 times"))
    kit = chance.choice(("", f"kit: {chance.randint(1, 12)} link, {chance.randint(1, 12)} small\n"))
    return (
        'title "Vela"\n'
        "ring link: inner 8 mm, wire 0.8 mm, metal copper\n"
        "ring small: inner 6 mm, wire 0.6 mm, metal brass\n"
        "finding drop: drop, eye tip 2 mm opens\n"
        f"{kit}piece charm{parts}{times}:\n" + "\n".join(body) + "\n"
    )


@pytest.mark.parametrize("seed", range(8))
def test_of_passes_by_chance(seed: int) -> None:
    chance = random.Random(seed)
    whole, rules = 0, Counter[str]()
    for _ in range(150):
        text = made_up(chance)
        pattern, slips = parse(Source(name="chance", text=text))
        weave, _ = expand(pattern, {})
        assert not slips, text
        rules.update(each.rule for each in agreed(weave))
        whole += any(not piece.broken for piece in weave.pieces)
    assert whole > 75
    # or the two agree only on weaves that have nothing wrong with them
    assert {"lone-twin", "loose-part", "over-budget"} <= rules.keys()


@pytest.mark.parametrize("seed", range(4))
def test_of_spoilt_patterns(seed: int) -> None:
    chance = random.Random(seed)
    texts, whole = list(LIBRARY), 0
    for _ in range(120):
        pattern, _ = parse(Source(name="spoilt", text=made(chance, texts, whole=True)))
        weave, _ = expand(pattern, {})
        if sum(map(len, weave.pieces)) > 3000:
            continue
        agreed(weave)
        whole += any(len(piece) and not piece.broken for piece in weave.pieces)
    assert whole > 12
