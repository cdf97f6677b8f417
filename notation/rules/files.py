"""Rules about the files of a pattern: their encoding, and what a `use` line may read."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="not-utf-8",
        severity=Severity.ERROR,
        title="text in another encoding",
        wordings={
            "": Wording(
                says="this is not UTF-8 text: byte {byte} at offset {offset} cannot be read",
                hint="Save the file as UTF-8 in your editor.",
            ),
            "utf-16": Wording(
                says="this file was saved as UTF-16",
                hint="Save it as UTF-8 in your editor.",
            ),
        },
        page="""\
Pattern files are UTF-8 text, so that a name with an accent is the same on every machine. Nothing else in
the file is looked at until it can be read.

What to do: in your editor, save the file with the encoding UTF-8.
""",
    ),
    Rule(
        name="import-not-read",
        severity=Severity.ERROR,
        title="a used file cannot be read",
        wordings={
            "missing": Wording(
                says='there is no file "{path}"',
                hint="The path starts from the folder of this file. Looked for: {looked}.",
            ),
            "folder": Wording(says='"{path}" is a folder', hint="Name a pattern file in it."),
            "special": Wording(says='"{path}" is not an ordinary file', hint="Name a pattern file."),
            "too-large": Wording(
                says='"{path}" has more than {limit} characters, too many for a pattern',
                hint="Is it the right file?",
            ),
            "unreadable": Wording(says='"{path}" cannot be read: {reason}', hint="Look at its permissions."),
        },
        page="""\
`use "units/rosette.annulet" as shared` reads another pattern file. Its path starts from the folder of the
file it is written in, with / between folders on every system.

What to do: correct the path, or put the file there.
""",
    ),
    Rule(
        name="import-outside-project",
        severity=Severity.ERROR,
        title="a used file outside the project",
        wordings={
            "absolute": Wording(
                says='"{path}" is an absolute path',
                hint="Write the path from the folder of this file, so that it works on other machines.",
            ),
            "": Wording(
                says='"{path}" leads out of the project',
                hint="Copy the file into the project, or put an empty file `annulet.project` into the folder that "
                "is to be the project.",
            ),
        },
        page="""\
A pattern reads only files of its own project: one folder and what lies below. It is the folder given with
`--root`; or else the nearest one, from the pattern's own folder upward, that has a file `annulet.project`
in it (what is in that file does not matter); or else the pattern's own folder. So a pattern from somebody
else cannot look around on your machine, and one of yours does not depend on a file that others lack. A link
in the file system that leads outside counts as outside.

What to do: copy the file into the project, or mark a wider folder with an empty file `annulet.project`.
""",
    ),
    Rule(
        name="import-circle",
        severity=Severity.ERROR,
        title="files that use each other",
        wordings={
            "": Wording(
                says='"{path}" is being read already: these files use each other',
                hint="Move what both need into a third file.",
            ),
        },
        page="""\
A file cannot use a file that uses it, directly or by way of others: neither could be read first.

What to do: move the units that both need into a file of their own.
""",
    ),
    Rule(
        name="imports-too-deep",
        severity=Severity.ERROR,
        title="files within files within files",
        wordings={
            "": Wording(
                says='"{path}" is at the end of a chain of more than {limit} files that use one another',
                hint="Use it from a file nearer to the pattern.",
            ),
        },
        page="""\
A file may use a file that uses a file, and so on; the chain is bounded so that a mistake cannot go on for
ever. The limits are listed in the language reference.

What to do: use the far file directly from the pattern that needs it.
""",
    ),
    Rule(
        name="too-many-imports",
        severity=Severity.ERROR,
        title="more files than one pattern may read",
        wordings={
            "": Wording(
                says='"{path}" is not read: the pattern uses more than {limit} files already',
                hint="Put units that belong together into one file.",
            ),
            "meanings": Wording(
                says='"{path}" is not read again: files and their kinds are used in more than {limit} ways already',
                hint="Give the kinds of the pattern the names that the used files have for them.",
            ),
        },
        page="""\
One pattern reads a bounded number of files, so that a mistake cannot fill the memory. The limits are
listed in the language reference. So is in how many ways their files and kinds may be
used: a file whose kinds are given another meaning is looked at once more.

What to do: put units that belong together into one file.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({})
"""These rules have no notes."""
