"""Figures that were drawn before: after an edit of words a booklet need not draw them again.

In: a weave, its layouts, its words. Out: a `FigureSource` that answers as `compiler.figure` would, from a file of
answers where it has them. The file lies in the user's cache folder (XDG Base Directory Specification 0.8: in
`annulet` of $XDG_CACHE_HOME, else of ~/.cache), one for each state of all that figures depend on: rings, links, places,
names, fonts, and the files of this program. What a reader who hears the page is told is worded anew each time.

What is read is not trusted: it must be of the right shape and key, its numbers finite, and its drawings outlines in
colours and nothing else; otherwise it is drawn anew. Drawn anew or read, the figures are the same, byte for byte.
"""

from __future__ import annotations

import hashlib
import math
import os
import sys
from collections.abc import Callable, Mapping
from importlib.util import find_spec
from pathlib import Path

import msgspec
from msgspec import Struct

from compiler.booklet.content import Shape, is_painted, painted
from compiler.booklet.figuretypes import Estimate, Extent, Figure, FigureSource, Mark, MarkSample
from compiler.booklet.fonts import fonts_in_use
from compiler.booklet.page import Block, Drawing, Item, Text, rounded
from compiler.figure.roles import roles_at
from compiler.figure.words import EnglishWords
from compiler.infile import ReadError, read_bytes
from compiler.layout import Layout
from compiler.outfile import OutputError, write_whole
from compiler.weave import EventKind, FindingKind, PieceWeave, RingKind, Weave

MOST_BYTES = 16_000_000
"""Of a file of answers: more is not kept."""
MOST_BYTES_IN_ALL = 128_000_000
"""Of all of them: those not written for longest are taken away."""
_OURS = Path(__file__).parents[1]
_Marks = tuple[Text | Drawing, ...]


class _Drawn(Struct, frozen=True, kw_only=True):
    """A figure, or a sample of a mark, as it is kept."""

    width: float
    height: float
    items: _Marks
    schematic: bool = False
    scale: float | None = None
    turned: bool = False
    more: tuple[str, ...] = ()
    caption: str = ""
    baseline: float = 0.0


class _Answers(Struct, kw_only=True):
    """Everything that was asked, and the answers."""

    key: str
    figures: dict[str, _Drawn | None] = {}
    estimates: dict[str, tuple[float, float] | None] = {}
    samples: dict[str, _Drawn] | None = None


class Remembered:
    """A source of figures with a memory."""

    def __init__(
        self,
        source: Callable[[], FigureSource],
        weave: Weave,
        layouts: Mapping[int, Layout],
        words: EnglishWords,
        extents: Mapping[int, Extent],
        folder: Path | None,
        flats: tuple[Layout, ...] = (),
    ) -> None:
        """`source` draws what is not remembered, and is made when it is needed; without a folder nothing is kept."""
        self._make = source
        self._made: FigureSource | None = None
        self._weave, self._words, self._extents = weave, words, extents
        self._file: Path | None = None
        self._answers = _Answers(key="")
        if folder is not None:
            key = key_of(weave, layouts, words, flats)
            self._file = folder / f"{key}.json"
            self._answers = _read(self._file, key)
        self._new = False

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece."""
        return self._figure("finished", piece, 0, width, height)

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece in its true size."""
        return self._figure("actual", piece, 0, width, height)

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step."""
        return self._figure("step", piece, step, width, height)

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        """How clear and how large the figure of a step comes out."""
        asked = f"{piece} {step} {width!r} {height!r}"
        if asked not in self._answers.estimates:
            found = self._source().estimate(piece, step, width, height)
            self._answers.estimates[asked] = None if found is None else (found.clear, found.height)
            self._new = True
        answer = self._answers.estimates[asked]
        return None if answer is None else Estimate(clear=answer[0], height=answer[1])

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece."""
        return self._extents.get(piece)

    def key(self) -> tuple[MarkSample, ...]:
        """A sample of each mark in use."""
        if self._answers.samples is None:
            self._new = True
            self._answers.samples = {
                each.mark.value: _Drawn(
                    width=each.sample.width,
                    height=each.sample.height,
                    items=frozen(each.sample.items),
                    baseline=each.sample.baseline,
                )
                for each in self._source().key()
            }
        return tuple(
            MarkSample(
                mark=Mark(name),
                sample=Block(width=each.width, height=each.height, items=each.items, baseline=each.baseline),
            )
            for name, each in self._answers.samples.items()
        )

    def keep(self) -> None:
        """Keeps what is new; that it cannot is no loss, and not told."""
        if self._file is None or not self._new:
            return
        data = msgspec.json.encode(self._answers)
        if len(data) > MOST_BYTES:
            return
        try:
            self._file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            write_whole(self._file, data)
            _make_room(self._file.parent, self._file)
        except (OSError, OutputError):
            return

    def _source(self) -> FigureSource:
        if self._made is None:
            self._made = self._make()
        return self._made

    def _figure(self, what: str, piece: int, step: int, width: float, height: float) -> Figure | None:
        asked = f"{what} {piece} {step} {width!r} {height!r}"
        if asked not in self._answers.figures:
            source = self._source()
            if what == "step":
                found = source.step(piece, step, width, height)
            else:
                found = (source.actual if what == "actual" else source.finished)(piece, width, height)
            self._answers.figures[asked] = None if found is None else _drawn(found)
            self._new = True
        kept = self._answers.figures[asked]
        if kept is None:
            return None
        if what == "step":
            alt = self._words.step(piece, step, roles_at(self._weave.pieces[piece], step))
        else:
            alt = self._words.finished(piece)
        return Figure(
            width=kept.width,
            height=kept.height,
            items=kept.items,
            alt=alt,
            schematic=kept.schematic,
            scale=kept.scale,
            turned=kept.turned,
            more=tuple(Mark(name) for name in kept.more),
            caption=kept.caption,
        )


def cache_folder(environ: Mapping[str, str]) -> Path | None:
    """Where answers are kept; None where the user has no home, or ANNULET_CACHE says `off`."""
    if environ.get("ANNULET_CACHE", "") == "off":
        return None
    for variable, below in (("XDG_CACHE_HOME", "annulet"), ("HOME", ".cache/annulet")):
        base = environ.get(variable, "")
        if os.path.isabs(base):  # noqa: PTH117 - the specification: paths that are not absolute are passed over
            return Path(base) / below / "figures"
    return None


def frozen(items: tuple[Item, ...]) -> _Marks:
    """Items of a figure with all between their texts written down. Raises ValueError for what a figure never has."""
    found: list[Text | Drawing] = []
    shapes: list[Shape] = []

    def write() -> None:
        if shapes:
            found.append(Drawing(x=0.0, y=0.0, content=painted(shapes)))
            shapes.clear()

    for item in items:
        if isinstance(item, Text):
            write()
            text = rounded(item)
            assert isinstance(text, Text)
            found.append(text)
        elif isinstance(item, Shape):
            shapes.append(item)
        else:
            raise ValueError(f"a figure has no {type(item).__name__.lower()}")
    write()
    return tuple(found)


def _drawn(figure: Figure) -> _Drawn:
    return _Drawn(
        width=figure.width,
        height=figure.height,
        items=frozen(figure.items),
        schematic=figure.schematic,
        scale=figure.scale,
        turned=figure.turned,
        more=tuple(mark.value for mark in figure.more),
        caption=figure.caption,
    )


# ---------------------------------------------------------------- the key


def key_of(
    weave: Weave, layouts: Mapping[int, Layout], words: EnglishWords, flats: tuple[Layout, ...] = ()
) -> str:
    """SHA-256 of all that the figures of a weave depend on, but for what they say to a reader who hears them."""
    found = hashlib.sha256(_program().encode())
    kinds: tuple[RingKind | FindingKind, ...] = (*weave.ring_kinds, *weave.finding_kinds)
    for kind in kinds:
        fields = [(name, getattr(kind, name)) for name in kind.__struct_fields__ if name != "place"]
        found.update(repr(fields).encode())
        found.update(repr(weave.metals.get(kind.metal or "")).encode())
    for number, piece in enumerate(weave.pieces):
        found.update(repr(_facts(piece)).encode())
        layout = layouts.get(number)
        found.update(b"none" if layout is None else repr(layout.circles).encode())
    found.update(repr([flat.circles for flat in flats]).encode())
    found.update(words.depends_on().encode())
    for face, data in fonts_in_use().items():
        found.update(face.value.encode() + hashlib.sha256(data).digest())
    return found.hexdigest()


def _facts(piece: PieceWeave) -> tuple[object, ...]:
    """A piece without the places of its statements and without what is only read."""
    motions = piece.motions
    columns = [
        *(piece.kind, piece.group, piece.member, piece.companion, piece.strand, piece.born),
        *(piece.link_a, piece.link_b, piece.link_motion, piece.link_sign),
        *(motions.verb, motions.actor, motions.path_start, motions.path_node, motions.path_behind),
        *(motions.load_start, motions.load_node),
    ]
    steps = [
        (
            *(step.first, step.stop, step.group, step.number),
            [
                (event.at, event.kind, event.handle, event.nodes, event.onto, event.pose)
                for event in step.events
                if event.kind not in (EventKind.REMARK, EventKind.CHECKPOINT)
            ],
        )
        for step in piece.steps
    ]
    return (
        *(column.tobytes() for column in columns),
        *(piece.name, piece.parts, piece.relations, piece.groups, piece.findings, steps),
        *(sorted(piece.companionship.items()), piece.poses),
    )


def _program() -> str:
    """What tells this program, its interpreter and the libraries that draw from any other."""
    state: list[object] = [sys.version]
    for package in ("notation", "grammar", "compiler"):
        for folder, _, names in os.walk(_OURS / package):
            if not folder.endswith("__pycache__"):
                state += [_stamp(Path(folder, name)) for name in names]
    for library in ("numpy", "reportlab", "fontpkg_fira_sans", "msgspec"):
        spec = find_spec(library)
        origin = None if spec is None or spec.origin is None else Path(spec.origin)
        state.append((library, origin and (_stamp(origin), _stamp(origin.with_name("version.py")))))
    return repr(sorted(map(repr, state)))


def _stamp(file: Path) -> tuple[str, int, int]:
    try:
        found = file.stat()
    except OSError:
        return str(file), 0, 0
    return str(file), found.st_mtime_ns, found.st_size


# ---------------------------------------------------------------- the files


def _read(file: Path, key: str) -> _Answers:
    """What is kept under a key; nothing where it is not as it must be."""
    try:
        answers = msgspec.json.decode(read_bytes(file, MOST_BYTES), type=_Answers)
    except (ReadError, msgspec.MsgspecError, RecursionError):
        return _Answers(key=key)
    return answers if answers.key == key and _sound(answers) else _Answers(key=key)


def _sound(answers: _Answers) -> bool:
    """Whether nothing is in the answers that no figure could have."""
    drawn = [each for each in answers.figures.values() if each is not None]
    samples = answers.samples or {}
    numbers = [each for pair in answers.estimates.values() if pair is not None for each in pair]
    for each in (*drawn, *samples.values()):
        numbers += [each.width, each.height, each.scale or 0.0, each.baseline]
        for item in each.items:
            numbers += [item.x, item.y]
            if isinstance(item, Text):
                numbers += [item.size, item.tracking]
            elif not is_painted(item.content):
                return False
    return all(map(math.isfinite, numbers)) and samples.keys() <= {mark.value for mark in Mark}


def _make_room(folder: Path, newest: Path) -> None:
    """Takes away what was not written for longest until the rest is small enough."""
    files = []
    for file in folder.glob("*.json"):
        found = file.stat()
        files.append((file != newest, -found.st_mtime_ns, found.st_size, file))
    held = 0
    for _, _, size, file in sorted(files):
        held += size
        if held > MOST_BYTES_IN_ALL:
            file.unlink(missing_ok=True)
