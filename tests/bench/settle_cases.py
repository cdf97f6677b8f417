"""Prints a table of weaves with the verdict of the proof and the seconds that the search took.

Run from the root of the checkout: python tests/bench/settle_cases.py [--slack] [NAME ...]
"""

import sys
import time
from pathlib import Path

from msgspec.structs import replace

sys.path.insert(0, str(Path(__file__).parents[1] / "compiler"))

import solver_graphs as graphs

from compiler.layout import LayoutProblem
from compiler.settle.search import settle, slack

LARGE, SMALL = graphs.size(5, 0.9), graphs.size(3, 0.7)
THICK_LARGE, THICK_SMALL = graphs.size(5, 1.0), graphs.size(3, 0.8)
FIVE, SIX = graphs.size(5, 1.0), graphs.size(6, 1.0)


def hung_rhombi(count: int) -> LayoutProblem:
    """Rhombi that share their tips, as in a necklace."""
    cells = sorted({(q + 2 * k, r + 2 * k) for k in range(count) for q in range(3) for r in range(3)})
    return graphs.two_size_sheet(cells, graphs.TRIANGULAR, LARGE, SMALL)


def hooked_rosette() -> LayoutProblem:
    """Seven hubs with a ring in one of them and an ear wire's eye in that."""
    base = graphs.hexagon(1, LARGE, SMALL)
    count = len(base.rings)
    links = graphs.linked([(count, 0), (count, 1), (count + 1, count)])
    return replace(
        base, rings=(*base.rings, graphs.size(4, 0.8), graphs.size(2, 0.7)), pairs=base.pairs + links
    )


CASES = {
    "rhombus 3x3, 5/0.9 and 3/0.7": graphs.rhombus(3, 3, LARGE, SMALL),
    "rhombus 3x3, 5/1.0 and 3/0.8": graphs.rhombus(3, 3, THICK_LARGE, THICK_SMALL),
    "four rhombi tip to tip": hung_rhombi(4),
    "seven hubs, 5/0.9 and 3/0.7": graphs.hexagon(1, LARGE, SMALL),
    "seven hubs with hook": hooked_rosette(),
    "hexagon of radius 3": graphs.hexagon(3, LARGE, SMALL),
    "square 4x5, single": graphs.square(4, 5, LARGE, SMALL),
    "square 4x5, single large, double small": graphs.square(4, 5, LARGE, SMALL, 1, 2),
    "square 4x5, eight in two": graphs.square(4, 5, LARGE, SMALL, 2, 2),
    "square 12x13, double large": graphs.square(12, 13, LARGE, SMALL, 2, 1),
    "four in one 5x5, 5/1.0": graphs.rows_sheet(5, 5, FIVE, 2),
    "four in one 5x5, 5/1.2": graphs.rows_sheet(5, 5, graphs.size(5, 1.2), 2),
    "four in one 5x6, no hints": graphs.rows_sheet(5, 6, FIVE, 2, hinted=False),
    "four in one 20x30, 5/1.0": graphs.rows_sheet(20, 30, FIVE, 2),
    "four in one 20x30, 5/1.2": graphs.rows_sheet(20, 30, graphs.size(5, 1.2), 2),
    "four in one 40x50, 5/1.0": graphs.rows_sheet(40, 50, FIVE, 2),
    "six in one 5x5, 6/1.0": graphs.rows_sheet(5, 5, SIX, 3),
    "six in one 20x30, 6/1.0": graphs.rows_sheet(20, 30, SIX, 3),
    "chain 1-1, 4/1": graphs.chain(1, 12, graphs.size(4, 1)),
    "chain 2-2, 5/1": graphs.chain(2, 8, FIVE),
    "chain 3-3, 6/1": graphs.chain(3, 6, SIX),
    "closed chain 1-1, 4/1": graphs.chain(1, 24, graphs.size(4, 1), closed=True),
    "through the eye of two, 5/1": graphs.eye_chain(20, FIVE),
    "through the eye of two, + hand, 6/1": graphs.eye_chain(20, SIX, 2, 1),
    "through the eye of two, - hand, 6/1": graphs.eye_chain(20, SIX, 2, -1),
    "through three, 6/1": graphs.eye_chain(12, SIX, 3),
    "rosette of three, 5/1": graphs.rosette(3, FIVE),
    "rosette of five, 6/1": graphs.rosette(5, SIX),
    "rosette of five, + hand, 6.5/1": graphs.rosette(5, graphs.size(6.5, 1), 1),
    "rosette of five, - hand, 6.5/1": graphs.rosette(5, graphs.size(6.5, 1), -1),
    "rosette of seven, 9/1": graphs.rosette(7, graphs.size(9, 1)),
    "box, 5/1": graphs.folded_chain(4, FIVE, plain_pairs=0),
    "byzantine, 5/1": graphs.folded_chain(4, FIVE, plain_pairs=1),
    "collars round joints": graphs.orbital(6, LARGE, graphs.size(5.5, 0.9)),
}


def main(arguments: list[str]) -> None:
    """Settle the named cases, or all, and print a line for each."""
    with_slack = "--slack" in arguments
    names = [name for name in arguments if name != "--slack"] or list(CASES)
    print(f"{'case':40} {'rings':>5} {'pairs':>5} {'proved':>6} {'clearance':>9} {'seconds':>8}  slack")
    for name in names:
        problem = CASES[name]
        begun = time.process_time()
        layout = settle(problem)
        seconds = time.process_time() - begun
        more = f"{slack(problem, layout):.2f}" if with_slack else "-"
        verdict = layout.verdict
        print(
            f"{name:40} {len(problem.rings):5} {len(problem.pairs):5} {'yes' if verdict.proved else 'NO':>6} "
            f"{verdict.clearance:9.4f} {seconds:8.2f}  {more}",
            flush=True,
        )


if __name__ == "__main__":
    main(sys.argv[1:])
