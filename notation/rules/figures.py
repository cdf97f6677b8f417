"""Rules of writing, second half: numbers, counts, lengths, and limits on what is written."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.rules.model import Rule, Wording
from notation.rules.syntax import error

RULES: tuple[Rule, ...] = (
    error(
        "decimal-count",
        "a count that is not whole",
        """\
Rings are counted in whole numbers. Only lengths have decimals.

    pass 2.5 large       # pass 2 large

What to do: write a whole number. A length needs its unit: 2.5 mm.
""",
        plain=Wording(
            says="{found} is no whole number", hint="Only lengths have decimals, and they have a unit."
        ),
    ),
    error(
        "number-word",
        "a number as a word",
        """\
Numbers are written in digits. The words two to six stand only for neighbours: `the two below`.

    pass two large       # pass 2 large

What to do: write the number in digits.
""",
        plain=Wording(says="`{found}` is written in digits here", hint="Write {meant}."),
    ),
    error(
        "bad-number",
        "a number that is written otherwise",
        """\
A number with decimals has a full stop and a digit on each side of it: 0.9, not .9 or 9. or 0,9. Nothing
separates thousands.

    ring small: inner 3 mm, wire .7 mm, metal copper      # 0.7 mm

What to do: write the number so.
""",
        leading_point=Wording(says="a number does not begin with a point", hint="Write {meant}."),
        trailing_point=Wording(says="a number does not end in a point", hint="Write {meant}."),
        comma=Wording(says="decimals stand behind a full stop, not a comma", hint="Write {meant}."),
    ),
    error(
        "no-count",
        "how many is not said",
        """\
Every quantity says how many: `2 large`, `a pair of large`, `arms small`. A name alone could be the count or the
kind.

    pass large through base      # pass 1 large through base

What to do: write the number in front of the kind.
""",
        plain=Wording(says="how many `{name}`?", hint="Write the number in front: `1 {name}`."),
    ),
    error(
        "no-kind",
        "of which kind is not said",
        """\
A quantity is a number and a kind of ring or finding.

    pass 2 through base          # pass 2 large through base

What to do: write the kind behind the number.
""",
        plain=Wording(
            says="{count} of which kind?", hint="Write the kind behind the number: `{count} large`."
        ),
    ),
    error(
        "no-unit",
        "a length without its unit",
        """\
Every length says its unit: mm, cm, in, awg or swg. Rings are sold in millimetres, in inches and by gauge, and a
bare number has been taken for the wrong one often enough.

    ring large: inner 5, wire 0.9, metal copper      # inner 5 mm, wire 0.9 mm

What to do: write the unit behind the number.
""",
        plain=Wording(says="{number} of which unit?", hint="Write `{number} mm`, or cm, in, awg, swg."),
    ),
    error(
        "bare-gauge",
        "a gauge without its system",
        """\
There are two gauges for wire, American (awg) and British (swg), and the same number is a different wire in each;
sellers of rings use both. A wire that is a fifth thicker makes a weave that does not close.

    ring large: inner 5 mm, wire 18 ga, metal copper      # 18 awg or 18 swg

What to do: find out which of the two your supplier means, and write awg or swg, or the wire in mm.
""",
        plain=Wording(
            says="gauge {number} of which system?",
            hint="`{number} awg` is {awg} mm and `{number} swg` is {swg} mm.",
        ),
        outside=Wording(
            says="gauge {number} of which system?", hint="Write awg or swg, 12 to 30, or the wire in mm."
        ),
    ),
    error(
        "unknown-length-unit",
        "a unit the notation does not have",
        """\
Lengths are in mm, cm, in (inches), awg or swg.

    ring large: inner 5 millimetres, wire 0.9 mm, metal copper      # 5 mm

What to do: write one of these units.
""",
        plain=Wording(says="`{found}` is no unit", hint="Units are mm, cm, in, awg and swg."),
        spelling=Wording(says="`{found}` is written `{meant}` here", hint="Write `{meant}`."),
    ),
    error(
        "bad-length",
        "a length that cannot be",
        """\
A length is more than nothing, ten metres at most, and has six decimals at most. Gauges are whole numbers from 12
to 30. Inches may be a fraction of two whole numbers, such as 3/16 in, that comes out in six decimals: halves to
sixty-fourths do.

What to do: correct the number.
""",
        not_positive=Wording(says="a length is more than 0", hint="Correct the number."),
        too_long=Wording(says="this is longer than ten metres", hint="Correct the number or the unit."),
        too_many_decimals=Wording(says="this has more than six decimals", hint="Round it."),
        gauge_not_whole=Wording(
            says="a gauge is a whole number", hint="Write it without decimals, or in mm."
        ),
        gauge_out_of_table=Wording(
            says="this gauge is not in the table",
            hint="Gauges go from {lowest} to {highest}; or write the wire in mm.",
        ),
        fraction_unit=Wording(says="a fraction is of an inch", hint="Write it so: `3/16 in`."),
    ),
    error(
        "missing-part",
        "a kind of ring that is not fully described",
        """\
A kind of ring has an inner diameter, a wire and a metal. All three are needed: the first two say whether the
rings fit, the third says what they weigh and what to buy.

    ring large: inner 5 mm, wire 0.9 mm, metal copper

What to do: add what is missing.
""",
        inner=Wording(
            says="the inner diameter of `{name}` is not said", hint="Add it, such as `inner 5 mm`."
        ),
        wire=Wording(says="the wire of `{name}` is not said", hint="Add it, such as `wire 0.9 mm`."),
        metal=Wording(says="the metal of `{name}` is not said", hint="Add it, such as `metal copper`."),
    ),
    error(
        "over-limit",
        "more than the compiler takes",
        """\
There are limits to what a pattern may be made of, far beyond what a piece needs, so that a slip or a strange file
cannot use up the memory of your machine.

What to do: a number or name so long is likely a slip. A file so long is likely not a pattern; a pattern may be
divided into files and units.
""",
        file=Wording(
            says="the file has {found} characters, {most} at most are read", hint="Divide it into files."
        ),
        blocks=Wording(says="blocks within blocks, deeper than {most}", hint="Make units of the inner ones."),
        sum=Wording(
            says="this has parts within parts, deeper than {most}", hint="Divide it, for example with `let`."
        ),
        digits=Wording(says="this number has {found} digits, {most} at most are read", hint="Is it a slip?"),
        long_name=Wording(
            says="this name has {found} characters, {most} at most are read", hint="Choose a shorter one."
        ),
        text=Wording(says="this text has {found} characters, {most} at most are read", hint="Shorten it."),
        diagnostics=Wording(
            says="there are more than {most} mistakes; the rest of the file has not been looked at",
            hint="Is it a pattern?",
        ),
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({})
