"""The house style file: what is read, what is refused and where, and what the booklet makes of it."""

from __future__ import annotations

import io
import re
import struct
import zlib
from pathlib import Path

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pattern_books import EARRING, HEAD, Boxes, leaves, weave_of

from compiler.booklet.compose import Options, compose
from compiler.booklet.house import House, Palette, Section
from compiler.booklet.page import Circle, Color, Document, Rectangle, Stroke, Text
from compiler.booklet.page import Path as Outline
from compiler.booklet.pictures import pixel_size, unpacks
from compiler.booklet.recolour import recoloured
from compiler.booklet.style import ACCENT, CAUTION, INK, PAPER, PASSED, PLACED, RULE, WASH, Paper
from compiler.booklet.typeset import typeset
from compiler.figure.look import blend
from compiler.housestyle import MOST_PIXELS, load_house_style
from compiler.kit import USUAL_RATES, Rates, quantities
from compiler.style import HouseStyle
from compiler.weave import Verb
from compiler.word.words import word
from notation.source import Source

PAGE = Path(__file__).parent.parent.parent / "notation" / "house-style.md"
EXAMPLES = re.findall(r"^```yaml\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
PLUM = Color(0x7A, 0x20, 0x48)


def png(columns: int, rows: int, *, claims: tuple[int, int] | None = None) -> bytes:
    """A grey PNG, by ISO/IEC 15948; it may claim another size."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", *(claims or (columns, rows)), 8, 0, 0, 0, 0)
    pixels = zlib.compress((b"\0" + b"\x80" * columns) * rows)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")


def told(text: str, folder: Path = Path()) -> list[tuple[int, int, str]]:
    read = load_house_style(Source(name="style.yaml", text=text), folder)
    assert (read.style is None) == bool(read.problems)
    return [(problem.line, problem.column, problem.message) for problem in read.problems]


def warned(text: str) -> list[tuple[int, str]]:
    read = load_house_style(Source(name="style.yaml", text=text), Path())
    assert read.problems == ()
    return [(warning.line, warning.message) for warning in read.warnings]


def style_of(text: str, folder: Path = Path()) -> HouseStyle:
    read = load_house_style(Source(name="style.yaml", text=text), folder)
    assert read.problems == ()
    assert read.style is not None
    return read.style


def booklet(house: House, **options: object) -> Document:
    weave = weave_of(HEAD + EARRING)
    return compose(weave, word(weave), Boxes(), Options(house=house, **options))


def texts_of(document: Document) -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(typeset(document)))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


# ---------------------------------------------------------------- reading


def test_the_example_of_the_page_is_read_without_a_warning() -> None:
    assert warned(EXAMPLES[0]) == []
    style = style_of(EXAMPLES[0])
    assert style.paper is Paper.LETTER
    assert style.house == House(
        publisher="The evening class of the harbour school",
        contact="Tamsin Orrell, Tuesdays from six, room 4",
        palette=Palette(accent=PLUM),
        left_out=(Section.GLOSSARY, Section.CONTENTS),
    )
    assert style.rates == Rates(prepare=(6, 15), weave=(20, 60), finding=(45, 45))


def test_the_page_tells_every_part_that_can_be_left_out() -> None:
    assert all(f"`{section.value}`" in PAGE.read_text("utf-8") for section in Section)


def test_what_is_not_given_is_as_usual() -> None:
    assert style_of("{}\n") == HouseStyle()
    assert style_of("time: {weave: 1 to 2}\n").rates == Rates(
        prepare=USUAL_RATES.prepare, weave=(1, 2), finding=USUAL_RATES.finding
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("publishr: x\n", [(1, 1, "`publishr` is not known here; did you mean `publisher`?")]),
        ("page: a5\n", [(1, 7, "`a5` is not known here; it is one of a4, letter")]),
        ("page: folio\n", [(1, 7, "`folio` is not known here; it is one of a4, letter")]),
        ("contact: a\ncontact: b\n", [(2, 1, "`contact` is given twice; it is first given in line 1")]),
        (
            "colours:\n  accent: #7A2048\n",
            [(2, 10, 'a colour is expected here; put it in quotes, for `#` begins a comment: `"#0B5460"`')],
        ),
        (
            "colours: {ink: red}\n",
            [(1, 16, '`red` is no colour; write `#` and six hexadecimal digits in quotes: `"#0B5460"`')],
        ),
        ("colours: {new: '#000000'}\n", [(1, 11, "`new` is not known here")]),
        (
            "leave-out: [steps]\n",
            [
                (
                    1,
                    13,
                    "`steps` is not known here; it is one of at-a-glance, true-size, finishing, glossary, contents",
                )
            ],
        ),
        ("leave-out: [glossary, glossary]\n", [(1, 23, "`glossary` is in the list already")]),
        (
            "time: {weave: fast}\n",
            [(1, 15, "`fast` are no seconds; write them as in `25 to 75`, or `40`")],
        ),
        ("time: {weave: 9 to 5}\n", [(1, 15, "seconds go from 0 to 3600, the smaller number first")]),
        ("logo-says: a lyre\n", [(1, 12, "there is no `logo` that this could be said of")]),
        ("publisher: \u9285\n", [(1, 12, "the fonts have no U+9285")]),
        ("publisher: ''\n", [(1, 12, "a text of one line is expected here, of at most 200 characters")]),
    ],
)
def test_mistakes_are_told_with_line_and_allowed_values(
    text: str, expected: list[tuple[int, int, str]]
) -> None:
    assert told(text) == expected


@given(st.text(max_size=60))
def test_no_text_is_too_odd(text: str) -> None:
    read = load_house_style(Source(name="s", text=text), Path())
    assert read.style is None or read.problems == ()


def test_colours_too_close_in_grey_are_warned_of() -> None:
    # a red and a green of nearly the same luminance, of 0.2126 R + 0.7152 G + 0.0722 B
    close = 'colours:\n  accent: "#A00000"\n  passed: "#005000"\n'
    assert [(line, message.split(" (")[0]) for line, message in warned(close)] == [
        (3, "`accent` and `passed` can hardly be told apart in grey print")
    ]
    pale = warned('colours: {placed: "#FFFFF0"}\n')
    assert [message.split(" (")[0] for _, message in pale] == [
        "`placed` and the paper can hardly be told apart in grey print"
    ]


def test_text_that_is_hard_to_read_is_warned_of() -> None:
    assert warned('colours: {caution: "#E08020"}\n') == [
        (1, "text in `caution` is hard to read on paper (contrast 2.9, wanted 4.5)")
    ]


def test_the_usual_colours_are_told_apart() -> None:
    assert (
        warned(f'colours: {{ink: "{INK}", accent: "{ACCENT}", passed: "{PASSED}", placed: "{PLACED}"}}\n')
        == []
    )


# ---------------------------------------------------------------- the logo


def test_a_logo_is_read_from_the_folder(tmp_path: Path) -> None:
    (tmp_path / "marks").mkdir()
    (tmp_path / "marks" / "lyre.png").write_bytes(png(30, 20))
    logo = style_of("publisher: Lyra\nlogo: marks/lyre.png\n", tmp_path).house.logo
    assert logo is not None
    assert (logo.columns, logo.rows, logo.says) == (30, 20, "Lyra")
    logo = style_of("logo: marks/lyre.png\nlogo-says: a lyre\n", tmp_path).house.logo
    assert logo is not None
    assert logo.says == "a lyre"


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("none.png", "there is no such file"),
        ("../outside.png", "it lies outside the folder of the style file"),
        ("/outside.png", "a logo is named from the folder of the style file"),
        ("C:\\outside.png", "a logo is named from the folder of the style file"),
        ("linked.png", "it lies outside the folder of the style file"),
        (".", "it is a folder"),
        ("text.png", "is neither a PNG nor a JPEG file"),
        ("bomb.png", "pixels large; at most 2000000 pixels are taken"),
        ("empty.png", "pixels large; at most 2000000 pixels are taken"),
        ("broken.png", "is broken: its pixels cannot be read"),
    ],
)
def test_a_logo_that_is_none_is_told(tmp_path: Path, name: str, part: str) -> None:
    folder = tmp_path / "house"
    folder.mkdir()
    (tmp_path / "outside.png").write_bytes(png(3, 2))
    (folder / "linked.png").symlink_to(tmp_path / "outside.png")
    (folder / "text.png").write_text("a picture", "utf-8")
    (folder / "bomb.png").write_bytes(png(3, 2, claims=(50_000, 50_000)))
    (folder / "empty.png").write_bytes(png(3, 2, claims=(0, 2)))
    (folder / "broken.png").write_bytes(png(30, 20)[:50])
    found = told(f"logo: '{name}'\n", folder)
    assert [(line, column) for line, column, _ in found] == [(1, 7)]
    assert part in found[0][2]


def test_a_logo_at_the_limit_of_pixels_is_taken(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(png(2000, MOST_PIXELS // 2000))
    assert told("logo: a.png\n", tmp_path) == []
    (tmp_path / "a.png").write_bytes(png(2000, MOST_PIXELS // 2000 + 1))
    assert len(told("logo: a.png\n", tmp_path)) == 1


def test_the_size_of_a_jpeg_is_in_its_frame() -> None:
    # ITU-T T.81: start of image, a comment, then a start of frame of 8 bits, 20 lines of 30 samples
    head = b"\xff\xd8\xff\xfe\x00\x05abc\xff\xc0\x00\x0b\x08\x00\x14\x00\x1e\x01\x01\x11\x00"
    assert pixel_size(head) == (30, 20)
    assert pixel_size(head[:12]) is None
    assert not unpacks(head)


@given(st.binary(max_size=80), st.sampled_from([b"", b"\xff\xd8", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"]))
def test_no_bytes_are_too_odd(data: bytes, head: bytes) -> None:
    size = pixel_size(head + data)
    assert size is None or (size[0] >= 0 and size[1] >= 0)


# ---------------------------------------------------------------- the booklet


def test_publisher_and_contact_are_printed() -> None:
    texts = texts_of(booklet(House(publisher="Lyra & daughters", contact="room 4")))
    assert "Lyra & daughters" in texts[0]
    assert any("Published by Lyra & daughters Contact room 4" in text for text in texts)


def test_a_logo_stands_on_the_cover_once_with_its_words(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(png(30, 20))
    document = booklet(style_of("logo: a.png\nlogo-says: a lyre\n", tmp_path).house)
    reader = pypdf.PdfReader(io.BytesIO(typeset(document)))
    images = [len(page.images) for page in reader.pages]
    assert images == [1] + [0] * (len(images) - 1)
    assert reader.pages[0].images[0].image is not None
    assert reader.pages[0].images[0].image.size == (30, 20)
    assert typeset(document) == typeset(document)
    assert "a lyre" in _alts(reader)


def _alts(reader: pypdf.PdfReader) -> list[object]:
    """Every alternative text of the structure tree."""
    found: list[object] = []
    waiting = [reader.trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        node = waiting.pop().get_object()
        if isinstance(node, list):
            waiting.extend(node)
        elif isinstance(node, dict):
            if "/Alt" in node:
                found.append(node["/Alt"])
            if "/K" in node:
                waiting.append(node["/K"])
    return found


@pytest.mark.parametrize("section", [each for each in Section if each is not Section.CONTENTS])
def test_a_part_is_left_out_and_nothing_else(section: Section) -> None:
    titles = {
        Section.GLANCE: "At a glance",
        Section.TRUE_SIZE: "True size",
        Section.FINISHING: "Finishing",
        Section.GLOSSARY: "Words used",
    }
    whole = " ".join(texts_of(booklet(House(left_out=(Section.CONTENTS,)))))
    part = " ".join(texts_of(booklet(House(left_out=(Section.CONTENTS, section)))))
    for each, title in titles.items():
        assert title in whole
        assert (title in part) == (each is not section)
    for always in ("Materials", "Before you start", "Cautions", "This edition"):
        assert always in part


def test_the_contents_list_can_be_left_out() -> None:
    assert "Contents" in texts_of(booklet(House()))[1]
    assert "Contents" not in " ".join(texts_of(booklet(House(left_out=(Section.CONTENTS,)))))


def test_rates_change_the_time_and_are_printed() -> None:
    rates = Rates(prepare=(60, 60), weave=(120, 180), finding=(0, 0))
    weave = weave_of(HEAD + EARRING)
    time = quantities(weave, rates).time
    rings = 2 * (6 * 2 + 2)  # in each earring six pairs and two small rings
    motions = 2 * sum(verb != Verb.TAKE for verb in weave.pieces[0].motions.verb)
    assert (time.least, time.most) == (rings + motions * 2, rings + motions * 3)
    text = " ".join(texts_of(booklet(House(), rates=rates)))
    assert "60 seconds to open or close a ring beforehand, 120 to 180 seconds to weave" in text


def colours_in(document: Document) -> set[Color]:
    found: set[Color] = set()
    for page in document.pages:
        for item in leaves(page.items):
            if isinstance(item, Text):
                found.add(item.color)
            elif isinstance(item, Rectangle | Circle | Outline):
                found |= {item.fill} if item.fill else set()
                found |= {item.stroke.color} if item.stroke else set()
    return found


def test_a_colour_is_exchanged_everywhere() -> None:
    assert ACCENT in colours_in(booklet(House()))
    found = colours_in(booklet(House(palette=Palette(accent=PLUM))))
    assert PLUM in found
    assert ACCENT not in found


@given(st.sampled_from([INK, ACCENT, PASSED, PLACED, CAUTION]), st.floats(0.0, 1.0))
def test_a_tint_becomes_the_same_tint_of_the_new_colour(colour: Color, share: float) -> None:
    usual = (INK, ACCENT, PASSED, PLACED, CAUTION)
    fresh = (Color(10, 20, 60), PLUM, Color(200, 120, 30), Color(190, 210, 200), Color(150, 0, 0))
    palette = Palette(ink=fresh[0], accent=fresh[1], passed=fresh[2], placed=fresh[3], caution=fresh[4])
    item = Circle(x=0.0, y=0.0, radius=1.0, fill=blend(colour, PAPER, share))
    (painted,) = recoloured((item,), palette)
    assert isinstance(painted, Circle)
    assert painted.fill is not None
    wanted = blend(fresh[usual.index(colour)], PAPER, share)
    near = max(abs(getattr(painted.fill, part) - getattr(wanted, part)) for part in ("red", "green", "blue"))
    # the palest tints of all colours are alike: any may be taken for any
    assert near <= (4 if share < 0.5 else 24)


def test_a_colour_that_is_no_tint_stays() -> None:
    green = Color(0x00, 0xC0, 0x00)
    item = Circle(x=0.0, y=0.0, radius=1.0, stroke=Stroke(color=green, width=1.0))
    assert recoloured((item,), Palette(accent=PLUM)) == (item,)


def test_paper_and_surfaces_keep_their_place() -> None:
    items = tuple(Circle(x=0.0, y=0.0, radius=1.0, fill=colour) for colour in (PAPER, WASH, RULE))
    painted = recoloured(items, Palette(accent=PLUM))
    for before, after in zip(items, painted, strict=True):
        assert isinstance(after, Circle)
        assert before.fill is not None
        assert after.fill is not None
        assert abs(before.fill.luminance - after.fill.luminance) < 0.02


# ---------------------------------------------------------------- the commands


def test_build_prints_in_the_style_and_the_page_option_goes_before(run) -> None:
    Path("p.annulet").write_text((HEAD + EARRING).replace("eye 2 mm opens", "eye 3 mm opens"), "utf-8")
    Path("s.yaml").write_text('page: letter\npublisher: Lyra\ncolours: {placed: "#FFFFF0"}\n', "utf-8")
    ran = run("build", "p.annulet", "--schematic", "--style", "s.yaml")
    assert ran.code == 0
    assert "s.yaml:3:19: warning: `placed` and the paper can hardly be told apart in grey print" in ran.err
    assert pypdf.PdfReader("p.pdf").pages[0].mediabox.width == 612
    run("build", "p.annulet", "--schematic", "--style", "s.yaml", "--page", "a4")
    assert round(pypdf.PdfReader("p.pdf").pages[0].mediabox.width) == 595


def test_a_style_with_mistakes_builds_nothing(run) -> None:
    Path("p.annulet").write_text((HEAD + EARRING).replace("eye 2 mm opens", "eye 3 mm opens"), "utf-8")
    Path("s.yaml").write_text("page: a5\nlogo: none.png\n", "utf-8")
    ran = run("build", "p.annulet", "--style", "s.yaml")
    assert ran.code == 2
    assert ran.err.splitlines() == [
        "s.yaml:1:7: `a5` is not known here; it is one of a4, letter",
        "s.yaml:2:7: the logo `none.png` cannot be read: there is no such file",
        "annulet: s.yaml has 2 mistakes, and nothing is done.",
    ]
    assert not Path("p.pdf").exists()
