"""Inputs that atheris makes up, led by what they reach: `python -m tests.fuzz_atheris KIND [libFuzzer options]`.

KIND is `parse` or `check` of `tests.fuzz`, which has the laws; `-max_total_time=600` among the options ends the run
after ten minutes. The corpus begins with the library and the cases. atheris (`pip install atheris`) has wheels for
few versions of Python only, so nothing else here needs it, and `tests.fuzz --guided` does the like without it.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import atheris  # type: ignore[import-not-found,unused-ignore]

with atheris.instrument_imports(include=["grammar", "compiler", "notation"]):
    from tests.fuzz import KINDS
    from tests.fuzz_inputs import TEXTS

from notation.source import decode


def main(kind: str, options: list[str]) -> None:
    """Runs until the options say so, or until something fails."""

    def one(data: bytes) -> None:
        KINDS[kind](decode(data)[0])

    with tempfile.TemporaryDirectory() as folder:
        for number, text in enumerate(TEXTS):
            (Path(folder) / f"{number}.annulet").write_text(text, "utf-8")
        atheris.Setup(["fuzz_atheris", folder, "-max_len=4000", "-timeout=20", *options], one)
        atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
