"""`python -m compiler`: the same command as `annulet`, from a checkout.

Python puts the current folder first on the path of modules here. Started in a stranger's folder of patterns, that
would run a `lark.py` of theirs in place of ours; so it is taken off before anything is imported, but for our own.
"""

import os
import sys

_OURS = os.path.dirname(os.path.dirname(os.path.realpath(__file__)))  # noqa: PTH120 - pathlib could be theirs
if not sys.flags.safe_path and os.path.realpath(sys.path[0]) != _OURS:
    del sys.path[0]

from compiler.cli import main  # noqa: E402

sys.exit(main())
