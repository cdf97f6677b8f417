"""`python -m compiler`: the same command as `annulet`, from a checkout."""

import sys

from compiler.cli import main

sys.exit(main())
