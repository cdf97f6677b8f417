"""Every limit of the compiler, named and stated: a pattern that passes one is told so, with the number.

Imported by the line layer, the parser, the loader and the expansion; printed in the language reference.
"""

# ---------------------------------------------------------------- text
LONGEST_FILE = 2_000_000
"""Characters in one file."""
DEEPEST_BLOCKS = 40
"""Blocks within blocks."""
DEEPEST_SUMS = 60
"""Brackets and operators within one another in a sum or condition."""
MOST_DIGITS = 12
"""Digits of a whole number."""
LONGEST_NAME = 80
"""Characters in a name."""
LONGEST_TEXT = 2_000
"""Characters in a quoted text."""
MOST_DIAGNOSTICS = 200
"""Diagnostics printed for one pattern; the rest is counted."""

# ---------------------------------------------------------------- imports
DEEPEST_IMPORTS = 16
"""Files that use files that use files."""
MOST_IMPORTS = 200
"""Files read for one pattern."""
MOST_MEANINGS = 100_000
"""Uses of files and of their kinds, each counted once for each meaning that the kinds of its user have."""

# ---------------------------------------------------------------- expansion
LARGEST_NUMBER = 10**12
"""Largest value of a sum, either side of nought."""
MOST_ROUNDS = 200_000
"""Rounds of loops and places of families with more than one simple pass, in one pattern."""
MOST_STATEMENTS = 1_000_000
"""Statements carried out in one pattern."""
MOST_MEMBERS = 5_000_000
"""Members that all picks of one pattern come to; `next`, `along`, `first` and `last` count only those they give."""
MOST_RINGS = 2_000_000
"""Rings in one pattern, each piece once."""
RINGS_FOR_FINDING = 10
"""Rings that a finding counts for: it has a name of its own, and eyes."""
MOST_LINKS = 5_000_000
"""Links in one pattern, each piece once."""
MOST_PATH = 200
"""Rings and eyes in the path of one pass."""
DEEPEST_UNITS = 40
"""Units that make units that make units."""
MOST_COMPANIONS = 12
"""Rings that lie side by side in one strand."""
MOST_MADE = 100_000
"""Times that a piece is made."""
MOST_NAMES_COMPARED = 500
"""Names that are compared with one that nobody knows, to say which may be meant."""
MOST_FRAMES_SHOWN = 6
"""Lines of a trace into loops and units that a diagnostic keeps, from the innermost."""
