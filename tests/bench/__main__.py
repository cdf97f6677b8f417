"""`python -m tests.bench [--quick] [PART ...]`, or `python tests/bench`: prints the table of `table`."""

import sys
from pathlib import Path

# Either way of starting it finds the modules beside this one, and ours.
sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2])]

from table import main  # noqa: E402 - after the path

if __name__ == "__main__":
    main(sys.argv[1:])
