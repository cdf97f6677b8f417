"""Settles every piece of the library without its kept layouts, and prints verdicts and seconds of processor time.

Run from the root of the checkout: python tests/bench/settle_library.py [WORD ...]; a WORD picks patterns by name.
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
    for path in sorted((ROOT / "patterns").rglob("*.annulet")):
        weave = checked(str(path), None, Timings()).weave
        if weave is None or (words and not any(word in path.name for word in words)):
            continue
        for number, piece in enumerate(weave.pieces):
            if piece.broken or not len(piece):
                continue
            problem = hinted(problem_of(weave, number), weave, number)
            begun = time.process_time()
            verdict = settle(problem).verdict
            seconds = time.process_time() - begun
            failed, spent = failed + (not verdict.proved), spent + seconds
            print(
                f"{path.stem + ' ' + piece.name:40} {len(problem.rings):5} {'yes' if verdict.proved else 'NO':>4} "
                f"{verdict.clearance:7.3f} {seconds:7.2f}",
                flush=True,
            )
    print(f"not found: {failed}; {spent:.1f} s")


if __name__ == "__main__":
    main(sys.argv[1:])
