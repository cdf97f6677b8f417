"""`--timings` on every command: a line for each stage, then the sum, on standard error and nowhere else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from compiler.cli import COMMANDS
from compiler.timings import Timings

GOOD = """\
title "Vela"
by "Tamsin Orrell"
licence "CC-BY-4.0"
version "1.0.0"
level "beginner"
about "A chain of four."

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before
"""
STAGES = {
    "build": ("load", "expand", "check", "glyphs", "word", "compose", "draw", "typeset", "write"),
    "check": ("load", "expand", "check", "report"),
    "format": ("parse", "format"),
    "steps": ("load", "expand", "check", "word"),
    "export": ("load", "expand", "check", "word", "export"),
    "same": ("load", "expand", "check", "same"),
    "settle": ("load", "expand", "check", "problem"),
    "fit": ("load", "expand", "check", "fit"),
    "figure": ("load", "expand", "check", "word", "draw", "write"),
    "kit": ("load", "expand", "check", "kit"),
    "catalogue": ("index",),
    "explain": ("explain",),
    "metals": ("metals",),
    "new": ("new",),
}
WORDS = {
    "build": ("vela.annulet", "--schematic"),
    "format": ("--check", "vela.annulet"),
    "same": ("vela.annulet", "vela.annulet"),
    "figure": ("vela.annulet", "--schematic", "-o", "vela.svg"),
    "catalogue": (".",),
    "explain": ("loose-part",),
    "metals": (),
    "new": ("corvus",),
}
LINE = re.compile(r"(\S.*?) +(\d+\.\d{3}) s")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_tells_the_seconds_of_its_stages(run, command: str) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    plain = run(command, *WORDS.get(command, ("vela.annulet",)))
    if command == "new":
        Path("corvus.annulet").unlink()
    ran = run(command, "--timings", *WORDS.get(command, ("vela.annulet",)))
    assert (ran.code, ran.out) == (plain.code, plain.out)
    rows = [found for line in ran.err.splitlines() if (found := LINE.fullmatch(line))]
    names = [row[1] for row in rows]
    assert [name for name in names if name in STAGES[command]] == list(STAGES[command])
    assert names[-1] == "in all"
    assert abs(sum(float(row[2]) for row in rows[:-1]) - float(rows[-1][2])) <= 0.0006 * len(rows)
    assert not LINE.search(plain.err)


def test_a_stage_inside_another_is_counted_once() -> None:
    timings = Timings()
    with timings.stage("outer"), timings.stage("inner"):
        sum(range(200_000))
    spent = timings.seconds()
    assert list(spent) == ["outer", "inner"]
    assert spent["outer"] < spent["inner"]
