"""Settles every piece of the library without its kept layouts, and prints verdicts and seconds of processor time.

Run from the root of the checkout: python tests/bench/settle_library.py [--look-alikes] [WORD ...]; a WORD picks
patterns by the names of their folder and file, and with `--look-alikes` they are those of tests/cases/lookalikes.
"""

import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from compiler.hints import hinted  # noqa: E402 - after the path
from compiler.pipeline import checked  # noqa: E402
from compiler.problem import problem_of  # noqa: E402
from compiler.settle.search import settle  # noqa: E402
from compiler.timings import Timings  # noqa: E402


def main(words: list[str]) -> None:
    """Settle the pieces and print a line for each."""
    failed, spent = 0, 0.0
    like = "--look-alikes" in words
    words = [word for word in words if word != "--look-alikes"]
    for path in sorted((ROOT / ("tests/cases/lookalikes" if like else "patterns")).rglob("*.annulet")):
        name = f"{path.parent.name}/{path.stem}"
        if words and not any(word in name for word in words):
            continue
        weave = checked(str(path), None, Timings()).weave
        if weave is None:
            continue
        for number, piece in enumerate(weave.pieces):
            if piece.broken or not len(piece):
                continue
            problem = hinted(problem_of(weave, number), weave, number)
            begun = time.process_time()
            verdict = settle(problem).verdict
            seconds = time.process_time() - begun
            failed, spent = failed + (not verdict.proved), spent + seconds
            shown = f"{name if like else path.stem} {piece.name}"
            print(
                f"{shown:40} {len(problem.rings):5} {'yes' if verdict.proved else 'NO':>4} "
                f"{verdict.clearance:7.3f} {seconds:7.2f}",
                flush=True,
            )
    print(f"not found: {failed}; {spent:.1f} s")


if __name__ == "__main__":
    main(sys.argv[1:])
