"""`annulet catalogue`: the index of a folder of patterns, and its catalogue as PDF."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from compiler.booklet.typeset import typeset
from compiler.catalogue.library_english import WRITTEN_BY
from compiler.commands.files import pattern_files
from compiler.console import say
from compiler.infile import InputError, read_text
from compiler.library.book import catalogue
from compiler.library.entries import Proved, entries, fit_table
from compiler.library.fitted import NAME, table_text
from compiler.library.index import FIGURES, INDEX, SHOWN, index_files
from compiler.library.measure import measured
from compiler.outfile import source_date, write_whole
from compiler.report import printable
from compiler.style import PAPERS
from compiler.timings import Timings


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Writes README.md into a folder of patterns: an index with a figure, ring counts, aspect ratios, level,\n"
        "licence and author of each; with -o a catalogue as PDF too. Nothing is settled: figures are drawn from the\n"
        "layouts that are kept beside the patterns. How tight the rings sit is read from fit.tsv in the folder;\n"
        "--measure brings that up to date first, which takes minutes."
    )
    parser.epilog = "example:\n  annulet catalogue patterns -o patterns.pdf"
    parser.add_argument(
        "folder", metavar="FOLDER", nargs="?", default="patterns", help="the folder (default: patterns)"
    )
    parser.add_argument("--measure", action="store_true", help="measure the slack of pieces not measured yet")
    parser.add_argument(
        "--check", action="store_true", help="write nothing; 1 when the index is not up to date"
    )
    parser.add_argument("-o", "--output", metavar="X.pdf", help="write the catalogue too")
    parser.add_argument("--page", choices=PAPERS, default="a4", help="the size of its paper (default: a4)")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Write them; 1 with --check when the index is stale. Raises InputError and OutputError."""
    folder = Path(arguments.folder)
    if not folder.is_dir():
        raise InputError(f"{printable(arguments.folder)} is not a folder.")
    files = pattern_files([folder.as_posix()])
    found, proved = entries(folder, files, timings)
    if arguments.measure:
        with timings.stage("measure"):
            rows = measured(proved, fit_table(folder), _progress)
        write_whole(folder / NAME, table_text(rows).encode("utf-8"))
        found, _ = entries(folder, files, timings)
    with timings.stage("index"):
        wanted = index_files(found)
    if arguments.check:
        return _compared(folder, wanted)
    left_over = _left_over(folder, wanted)
    (folder / FIGURES).mkdir(exist_ok=True)
    for name, text in wanted.items():
        write_whole(folder / name, text.encode("utf-8"))
    for left in left_over:
        left.unlink()
    say(f"{printable(folder.as_posix())}: the index of {len(found)} files is written")
    if arguments.output is not None:
        with timings.stage("compose"):
            book = catalogue(found, PAPERS[arguments.page], source_date(os.environ))
        write_whole(Path(arguments.output), typeset(book))
        say(f"{printable(arguments.output)} is written")
    return 0


def _compared(folder: Path, wanted: dict[str, str]) -> int:
    """1 where a file of the index is not as it would be written, each named."""
    stale = [name for name, text in wanted.items() if not _is(folder / name, text)]
    stale += [left.relative_to(folder).as_posix() for left in _left_over(folder, wanted)]
    for name in stale:
        say(
            f"{printable((folder / name).as_posix())} is not up to date: run `annulet catalogue {folder.as_posix()}`"
        )
    return int(bool(stale))


def _is(path: Path, text: str) -> bool:
    return path.is_file() and path.read_bytes() == text.encode("utf-8")


def _left_over(folder: Path, wanted: dict[str, str]) -> list[Path]:
    """Figures that the index there is shows, and the new one does not: no other file is touched."""
    shown = set(SHOWN.findall(_old_index(folder)))
    return [folder / name for name in sorted(shown - set(wanted)) if (folder / name).is_file()]


def _old_index(folder: Path) -> str:
    """The index there is; empty where there is none. Raises InputError for a page that is somebody's own."""
    path = folder / INDEX
    if not path.exists():
        return ""
    text = read_text(path.as_posix()).source.text
    if WRITTEN_BY not in text:
        raise InputError(
            f"{printable(path.as_posix())} was not written by annulet: it would be lost. Move it away."
        )
    return text


def _progress(piece: Proved) -> None:
    say(f"measuring {piece.piece} of {piece.pattern} ...")
