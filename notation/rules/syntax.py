"""Rules of writing, first half: words, names, signs, brackets and the order of things on a line.

Numbers and lengths are in `notation.rules.figures`, indentation and blocks in `notation.rules.blocks`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording


def error(name: str, title: str, page: str, **wordings: Wording) -> Rule:
    """A rule that is an error; the wording `plain` is the variant without a name, `_` stands for a hyphen."""
    by_variant = {"" if key == "plain" else key.replace("_", "-"): value for key, value in wordings.items()}
    return Rule(
        name=name, severity=Severity.ERROR, title=title, wordings=MappingProxyType(by_variant), page=page
    )


RULES: tuple[Rule, ...] = (
    error(
        "unexpected",
        "something that does not fit here",
        """\
The line was understood up to this place, and what comes next cannot follow. The message lists what can. The
line is left out; the lines after it and, if it is the header of a block, the lines in the block are read all
the same.

    lay over             # after `lay` there is only `flat`, or what is laid flat

What to do: put one of the listed words there, or look whether a word in front of it is missing.
""",
        plain=Wording(says="{found} does not fit here", hint="Here may stand {expected}."),
        which_length=Wording(
            says="which length is {found}?",
            hint="Write `inner {found}` for the hole, `wire {found}` for the wire.",
        ),
        line_end=Wording(says="the line ends too early", hint="Here may stand {expected}."),
        line_start=Wording(
            says="no statement begins with {found}", hint="A statement begins with a word such as `pass`."
        ),
        taken=Wording(
            says="a ring that is taken is closed, so `{found}` does not fit behind it",
            hint="Write `pass`: then the ring is opened.",
        ),
        nothing_else=Wording(
            says="the statement is complete before {found}", hint="Take away the rest of the line."
        ),
    ),
    error(
        "unknown-word",
        "a first word that is none of the notation's",
        """\
The first word of a line says what the line does, and there is a fixed set of them: `ring`, `finding`, `unit`,
`piece`, `pass`, `take`, `make`, `step` and so on. This word is not among them.

    pas 2 large          # pass 2 large

What to do: use the word that is meant. Remarks to the maker are written with `note`, remarks to yourself
after a `#`.
""",
        plain=Wording(
            says="no statement begins with `{found}`",
            hint="To write a remark to yourself, put a `#` in front of it; one for the maker is `note`.",
        ),
        close=Wording(says="no statement begins with `{found}`", hint="Did you mean `{meant}`?"),
        not_first=Wording(
            says="no statement begins with `{found}`",
            hint="It is a word of the notation, but it stands further on in a line.",
        ),
    ),
    error(
        "misspelt-word",
        "a word that looks like another one",
        """\
Where a certain word is due there stands another that looks much like it.

    pass 2 large trough base        # through

What to do: correct the word. If it is meant to be a name, something in front of it is missing.
""",
        plain=Wording(says="`{found}` does not fit here", hint="Did you mean `{meant}`?"),
    ),
    error(
        "capital-word",
        "a word with a capital letter",
        """\
The words of the notation are written in small letters, so that `Large` and `large` can never be two names
for one kind by mistake. Names may have capitals.

    Pass 2 large         # pass 2 large

What to do: write the word in small letters.
""",
        plain=Wording(
            says="`{found}` is written with a capital letter",
            hint="Words of the notation have none: `{meant}`.",
        ),
    ),
    error(
        "other-word",
        "another word for the same thing",
        """\
The trade has several words for many things, and the notation has one for each, so that every pattern reads
alike: `inner` for the inner diameter, `licence` for the terms of use, `through` for thru.

    ring large: id 5 mm, wire 0.9 mm, metal copper        # inner 5 mm

What to do: use the word of the notation.
""",
        plain=Wording(says="`{found}` is written `{meant}` here", hint="Write `{meant}`."),
        number=Wording(says="`{found}` is written as a number here", hint="Write `{meant}`."),
    ),
    error(
        "reserved-word",
        "a word of the notation as a name",
        """\
Words that have a meaning of their own cannot be names as well, or a line could be read in two ways.

    unit round:          # `round` begins a family
    unit rosette:

What to do: choose another name, or make it two words with a hyphen: `outer-round`.
""",
        plain=Wording(
            says="`{found}` is a word of the notation and cannot be a name",
            hint="Choose another name, for example `{found}-one`.",
        ),
    ),
    error(
        "bad-name",
        "a name that is none",
        """\
A name begins with a letter and goes on with letters, digits and `_`. A hyphen may stand only in front of a
letter, as in `ear-wire`; in front of a digit it is a minus sign, so that `k-1` is one less than k.

    ring large-2: inner 5 mm, wire 0.9 mm, metal copper      # large2
    pass 2 large as arm-1                                    # arm[1]

What to do: leave the hyphen out, or number the members of a group in square brackets.
""",
        hyphen=Wording(
            says="in a name a hyphen can stand only in front of a letter",
            hint="`{name}-{number}` is {name} minus {number}. Write `{name}{number}`, or `{name}[{number}]`.",
        ),
        digit=Wording(says="a name cannot begin with a digit", hint="Put a letter first."),
    ),
    error(
        "member-brackets",
        "a member's number without square brackets",
        """\
The members of a group are numbered in square brackets.

    pass 2 large as arm 1        # arm[1]
    pass 2 large through arm(2)  # arm[2]

What to do: put the number in square brackets.
""",
        plain=Wording(says="a member's number stands in square brackets", hint="Write `{name}[{number}]`."),
    ),
    error(
        "stray-character",
        "a character the notation does not know",
        """\
The notation uses letters, digits, and the signs , : . # " ( ) [ ] + - * / = < > and _ in names. Text copied
from a web page or a word processor often brings others that look alike: curly quotes, long dashes, spaces
that are no ordinary spaces, or marks that cannot be seen.

What to do: type the character anew. Inside quotes and comments every character is fine.
""",
        plain=Wording(
            says="the character {found} means nothing here", hint="Take it away, or put it in quotes."
        ),
        quote=Wording(says="{found} begins no text", hint='Put texts in straight double quotes: "Lyra".'),
        dash=Wording(says="{found} is no minus sign or hyphen", hint="Type a plain `-`."),
        times=Wording(says="{found} is no sign for times", hint="Write `*`."),
        space=Wording(says="here is a space that is no ordinary one: {found}", hint="Type a plain space."),
        invisible=Wording(says="here is a mark that cannot be seen: {found}", hint="Delete it."),
    ),
    error(
        "unclosed-text",
        "a text without its closing quote",
        """\
A text begins and ends with a straight quote, on the same line. A quote inside a text is written \\", a
backslash \\\\.

    title "Lyra          # title "Lyra"

What to do: close the text. A long text may stay on one long line.
""",
        plain=Wording(says="the text that begins here has no closing quote", hint='Put a `"` at its end.'),
    ),
    error(
        "unknown-escape",
        "a backslash before an ordinary character",
        """\
In a text a backslash is written only in front of a quote or of another backslash: \\" and \\\\.

    note "slide it \\ over"        # note "slide it \\\\ over"

What to do: write the backslash twice, or leave it out.
""",
        plain=Wording(
            says="`{found}` means nothing in a text", hint='Only \\" and \\\\ do. Write a backslash twice.'
        ),
    ),
    error(
        "unclosed-bracket",
        "a bracket that is not closed",
        """\
A bracket that is opened has to be closed by one of its kind. A line with an open bracket goes on over the
next line, up to a line that plainly begins a statement.

    pass 2 large as arm[1 through base      # arm[1]

What to do: close the bracket where it belongs.
""",
        plain=Wording(says="this `{bracket}` is not closed", hint="Put a `{closing}` where it belongs."),
        wrong_one=Wording(
            says="`{found}` does not close the `{bracket}`", hint="Close it with a `{closing}`."
        ),
    ),
    error(
        "unopened-bracket",
        "a closing bracket without an opening one",
        """\
A closing bracket needs an opening one before it on the same statement.

    pass 2 large as arm 1]        # arm[1]

What to do: put the opening bracket in, or take the closing one away.
""",
        plain=Wording(
            says="this `{found}` closes nothing", hint="Put a `{opening}` in front, or take it away."
        ),
    ),
    error(
        "trailing-comma",
        "a comma with nothing behind it",
        """\
A comma says that more is to come: the line goes on over the next one. Here what comes next begins a new
statement, or there is nothing more.

    kit: 40 large, 70 small,
    piece earring:

What to do: take the comma away, or add what is missing.
""",
        plain=Wording(says="nothing comes after this comma", hint="Take it away, or add what is missing."),
    ),
    error(
        "missing-colon",
        "a colon is missing",
        """\
A line that has a block under it ends in a colon, and in `ring`, `finding` and `kit` a colon stands between the
name and what is said about it.

    repeat 4 times       # repeat 4 times:
        pass 1 link through the one before

What to do: put the colon there.
""",
        plain=Wording(
            says="there is no `:` at the end of this line", hint="A `{word}` line ends in a colon."
        ),
        inside=Wording(says="there is no `:` after {before}", hint="Put a colon there."),
    ),
    error(
        "extra-colon",
        "a colon on a line that has no block",
        """\
A colon at the end of a line opens a block. This statement has none. (A `pass` may have one, for its twin.)

    take 2 large:        # take 2 large

What to do: take the colon away.
""",
        plain=Wording(says="a `{word}` line has no block", hint="Take the colon away."),
    ),
    error(
        "after-colon",
        "a statement behind a colon",
        """\
The statements of a block stand on lines of their own under the header, indented by four spaces.

    repeat 4 times: pass 1 link

What to do: begin a new line after the colon.
""",
        plain=Wording(
            says="{found} stands on the line of the header",
            hint="Begin a new line after the colon, indented.",
        ),
    ),
    error(
        "two-on-a-line",
        "two statements on one line",
        """\
Each statement has a line of its own.

    lay flat turn over

What to do: begin a new line in front of the second.
""",
        plain=Wording(says="`{found}` begins another statement", hint="Give it a line of its own."),
    ),
    error(
        "clause-alone",
        "a clause on a line of its own",
        """\
A long statement may go on over the next lines, if they are indented deeper than it and begin with `through`,
`gathering`, `carrying`, `joined`, `around`, `between`, `with` or `as`. Here there is no statement above that
could go on: it is not indented deeper, or the line above ends in a colon.

    pass 2 large
    through base         # indent this line

What to do: indent the line deeper than the statement it belongs to.
""",
        plain=Wording(
            says="`{found}` begins no statement", hint="To go on with the line above, indent this one deeper."
        ),
    ),
    error(
        "comparison-sign",
        "a sign for comparing that the notation does not have",
        """\
Numbers are compared with = <> < <= > and >=. Other languages write some of these otherwise.

    if k == 1:           # if k = 1:

What to do: write the sign the notation has.
""",
        plain=Wording(says="`{found}` is written `{meant}` here", hint="Write `{meant}`."),
    ),
    error(
        "duplicate-clause",
        "the same thing said twice",
        """\
Each clause of a motion and each part of a ring or finding is said once, or it would not be clear which counts.

    pass 2 large through base through heart      # through base and heart

What to do: say it once; a list is separated by commas or `and`.
""",
        plain=Wording(says="`{clause}` is said twice", hint="Say it once, as a list if need be."),
        bundle=Wording(says="single, doubled or tripled is said twice", hint="Keep one of them."),
        rows=Wording(says="how the rows lie is said twice", hint="Keep one of them."),
        companions=Wording(says="how these rings lie to one another is said twice", hint="Keep one of them."),
    ),
    error(
        "duplicate-heading",
        "a heading that comes twice",
        """\
A pattern has one title, one designer, one licence, one version, one level and one text about it.

What to do: keep one of the lines. Two designers go into one text: by "Tamsin Orrell and Ines Valdor".
""",
        plain=Wording(says="there is a second `{word}` line", hint="Keep one of the two."),
    ),
    error(
        "given-needs-name",
        "`is given` asked about something that is no name",
        """\
`start is given` asks whether the port `start` was handed a group when the unit was made. It is asked about
the name of a port, not about a number.

    if start + 1 is given:        # if start is given:

What to do: write the name of a port.
""",
        plain=Wording(says="`is given` asks about a port", hint="Write the name of a port in front of it."),
    ),
)

NOTES: Mapping[str, str] = MappingProxyType(
    {
        "first-here": "first said here",
        "bracket-here": "opened here",
        "block-here": "this block begins here",
    }
)
