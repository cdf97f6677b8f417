"""The PDF file: opens, holds every word, embeds its fonts, and is the same every time."""

import ctypes
import io
import re

import pypdf
import pypdfium2
import pytest
from msgspec.structs import replace

from compiler.booklet.fonts import text_width
from compiler.booklet.page import (
    Anchor,
    Circle,
    Color,
    Document,
    Face,
    Group,
    Item,
    Line,
    Link,
    Page,
    Path,
    Rectangle,
    Role,
    Stroke,
    Text,
    Verb,
)
from compiler.booklet.typeset import typeset

INK = Color(0, 0, 0)
RED = Color(255, 0, 0)
WORDS = "é ł ř 3 × 3 – ’ µ (a\\b) Λύρα Лира"


def words(string: str, y: float, face: Face = Face.REGULAR) -> Text:
    """A line of text at the left."""
    return Text(x=20.0, y=y, string=string, face=face, size=10.0, color=INK)


def page(*items: Item, label: str = "1") -> Page:
    """A small page."""
    return Page(width=300.0, height=200.0, label=label, items=items)


def document(*pages: Page) -> Document:
    """A document of these pages."""
    return Document(
        title="Lyra – earrings",
        author="Tamsin Orřell",
        subject="Woven rings",
        language="en-GB",
        keywords=("rings", "weaving"),
        pages=pages,
    )


def read(data: bytes) -> pypdf.PdfReader:
    """The file as pypdf reads it, tolerating nothing."""
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def rendered(data: bytes, scale: float = 1.0) -> pypdfium2.PdfBitmap:
    """The first page as PDFium draws it."""
    return pypdfium2.PdfDocument(data)[0].render(scale=scale)


def pixel(data: bytes, x: int, y: int) -> tuple[int, int, int]:
    """The colour that PDFium draws at a place, one pixel a point."""
    image = rendered(data).to_numpy()
    blue, green, red = (int(part) for part in image[y, x][:3])
    return red, green, blue


@pytest.mark.parametrize("face", list(Face))
def test_text_comes_out_as_it_went_in(face: Face) -> None:
    data = typeset(document(page(words(WORDS, 50.0, face))))
    assert read(data).pages[0].extract_text() == WORDS
    pdfium = pypdfium2.PdfDocument(data)
    assert pdfium[0].get_textpage().get_text_bounded() == WORDS


@pytest.mark.parametrize("face", list(Face))
def test_characters_stand_where_they_were_measured(face: Face) -> None:
    string = "LyraToVTeWa (Ty) T.AV łř-Lyra"
    text = replace(words(string, 50.0, face), tracking=0.2)
    drawn = pypdfium2.PdfDocument(typeset(document(page(text))))[0].get_textpage()
    for index in range(len(string)):
        start = (
            20 + text_width(string[: index + 1], face, 10.0, 0.2) - text_width(string[index], face, 10.0, 0.2)
        )
        x, y = ctypes.c_double(), ctypes.c_double()
        assert pypdfium2.raw.FPDFText_GetCharOrigin(drawn, index, x, y)
        assert (x.value, y.value) == pytest.approx((start, 150), abs=0.001), string[index]


def test_more_characters_than_one_subset_holds_come_out_too() -> None:
    many = "".join(chr(code) for code in [*range(0xC0, 0x149), *range(0x14A, 0x180), *range(0x400, 0x460)])
    lines = [many[start : start + 40] for start in range(0, len(many), 40)]
    items = [words(line, 20.0 + 15 * number) for number, line in enumerate(lines)]
    assert read(typeset(document(page(*items)))).pages[0].extract_text().split("\n") == lines


def test_the_same_document_gives_the_same_bytes_and_another_does_not() -> None:
    one = document(page(words("Lyra", 50.0)))
    assert typeset(one) == typeset(one)
    other = typeset(replace(one, pages=(page(words("Vela", 50.0)),)))
    first, second = (read(data).trailer["/ID"] for data in (typeset(one), other))
    assert first != second


def test_every_font_is_embedded_cut_down_and_one_of_ours() -> None:
    faces = [words("Lyra", 20.0 + 15 * number, face) for number, face in enumerate(Face)]
    data = typeset(document(page(*faces)))
    fonts = {}
    for name, font in read(data).pages[0]["/Resources"]["/Font"].items():
        entry = font.get_object()
        descriptor = entry["/FontDescriptor"].get_object()
        assert "/FontFile2" in descriptor, name
        assert "/ToUnicode" in entry, name
        fonts[str(entry["/BaseFont"])] = descriptor["/FontFile2"].get_object().get_data()
    assert sorted(re.sub(r"^/[A-Z]{6}\+", "", name) for name in fonts) == [
        "FiraSans-Italic",
        "FiraSans-Light",
        "FiraSans-Regular",
        "FiraSans-SemiBold",
    ]
    assert all(len(program) < 60_000 for program in fonts.values())
    assert b"Helvetica" not in data


def test_a_file_without_text_names_no_font_of_the_reader() -> None:
    data = typeset(document(page(Circle(x=50.0, y=50.0, radius=10.0, fill=INK))))
    assert b"Helvetica" not in data
    assert read(data).pages[0].extract_text() == ""


def test_a_character_without_a_glyph_is_refused_and_not_dropped() -> None:
    with pytest.raises(ValueError, match="the regular face has no 環"):
        typeset(document(page(words("ring 環", 50.0))))


def test_metadata_language_boxes_and_labels_are_there() -> None:
    data = typeset(document(page(words("a", 9.0), label="Cover"), page(words("b", 9.0), label="2")))
    reader = read(data)
    found = reader.metadata
    assert found is not None
    assert (found.title, found.author, found.subject) == ("Lyra – earrings", "Tamsin Orřell", "Woven rings")
    assert found.get("/Keywords") == "rings, weaving"
    assert "/CreationDate" not in found
    assert reader.root_object["/Lang"] == "en-GB"
    assert reader.root_object["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712 - a PDF boolean
    assert reader.pdf_header == "%PDF-1.7"
    assert reader.page_labels == ["Cover", "2"]
    for sheet in reader.pages:
        assert (
            [float(edge) for edge in sheet.trimbox] == [0, 0, 300, 200] == [float(e) for e in sheet.mediabox]
        )


def test_a_date_that_was_given_is_the_date_of_the_file() -> None:
    dated = replace(document(page(words("a", 9.0))), created=1_700_000_000)
    found = read(typeset(dated)).metadata
    assert found is not None
    assert found.creation_date is not None
    assert found.creation_date.isoformat() == "2023-11-14T22:13:20+00:00"
    assert typeset(dated) == typeset(dated)


def test_content_and_fonts_are_compressed() -> None:
    sheet = read(typeset(document(page(words(WORDS, 50.0))))).pages[0]
    assert sheet["/Contents"].get_object()["/Filter"] == ["/FlateDecode"]


def test_the_outline_has_titles_levels_and_places() -> None:
    first = page(Anchor(name="arms", x=20.0, y=30.0, title="The arms – ⌀"), words("x", 30.0))
    second = page(Anchor(name="four", x=20.0, y=60.0, title="4 First arm", level=1), words("y", 60.0))
    reader = read(typeset(document(first, second)))
    top, inner = reader.outline
    assert not isinstance(top, list)
    assert isinstance(inner, list)
    assert (top.title, reader.get_destination_page_number(top), top.top) == ("The arms – ⌀", 0, 170)
    assert [entry.title for entry in inner] == ["4 First arm"]
    assert reader.get_destination_page_number(inner[0]) == 1


def test_a_link_leads_to_its_anchor_and_says_so() -> None:
    link = Link(x=20.0, y=40.0, width=30.0, height=10.0, anchor="four", says="To step 4")
    reader = read(typeset(document(page(link, words("x", 50.0)), page(Anchor(name="four", x=0.0, y=60.0)))))
    (annotation,) = (entry.get_object() for entry in reader.pages[0]["/Annots"])
    assert annotation["/Contents"] == "To step 4"
    assert [float(edge) for edge in annotation["/Rect"]] == [20, 150, 50, 160]
    assert annotation["/Dest"].get_object()[0].get_object() == reader.pages[1]


def test_a_link_to_nowhere_and_a_second_anchor_of_a_name_are_refused() -> None:
    link = Link(x=0.0, y=0.0, width=1.0, height=1.0, anchor="five", says="To step 5")
    with pytest.raises(ValueError, match="'five', which is nowhere"):
        typeset(document(page(link)))
    anchor = Anchor(name="a", x=0.0, y=0.0)
    with pytest.raises(ValueError, match="two anchors are called 'a'"):
        typeset(document(page(anchor), page(anchor)))
    with pytest.raises(ValueError, match="needs a page"):
        typeset(document())


@pytest.mark.parametrize(
    "shape",
    [
        Rectangle(x=100.0, y=20.0, width=40.0, height=20.0, fill=RED),
        Rectangle(x=100.0, y=20.0, width=40.0, height=20.0, radius=5.0, fill=RED),
        Circle(x=120.0, y=30.0, radius=10.0, fill=RED),
        Line(x1=100.0, y1=30.0, x2=140.0, y2=30.0, stroke=Stroke(color=RED, width=20.0)),
        Path(
            verbs=(Verb.MOVE, Verb.LINE, Verb.LINE, Verb.CLOSE),
            points=(100.0, 20.0, 140.0, 20.0, 120.0, 60.0),
            fill=RED,
        ),
    ],
)
def test_shapes_stand_where_they_were_put_counted_from_the_top_left(shape: Item) -> None:
    data = typeset(document(page(shape)))
    assert pixel(data, 120, 30) == (255, 0, 0)
    assert pixel(data, 120, 170) == (255, 255, 255)
    assert pixel(data, 90, 30) == (255, 255, 255)


def test_a_hole_in_a_path_stays_open() -> None:
    square = (Verb.MOVE, Verb.LINE, Verb.LINE, Verb.LINE, Verb.CLOSE)
    outer = (20.0, 20.0, 80.0, 20.0, 80.0, 80.0, 20.0, 80.0)
    inner = (40.0, 40.0, 60.0, 40.0, 60.0, 60.0, 40.0, 60.0)
    data = typeset(document(page(Path(verbs=square * 2, points=outer + inner, fill=RED))))
    assert pixel(data, 30, 50) == (255, 0, 0)
    assert pixel(data, 50, 50) == (255, 255, 255)


def test_a_ring_is_drawn_in_its_true_size() -> None:
    # 10 mm across at 72 points an inch, drawn at 10 pixels a point
    ring = Circle(x=100.0, y=100.0, radius=5 * 72 / 25.4, fill=RED)
    image = rendered(typeset(document(page(ring))), 10.0).to_numpy()
    red = (image[1000, :, 0] < 128).nonzero()[0]
    assert (red[-1] - red[0] + 1) / 10 == pytest.approx(10 * 72 / 25.4, abs=0.1)


def test_what_is_read_is_tagged_and_the_rest_is_decoration() -> None:
    figure = Group(role=Role.FIGURE, alt="A ring", items=(Circle(x=9.0, y=9.0, radius=5.0, fill=INK),))
    row = Group(role=Role.ROW, items=(Group(role=Role.CELL, items=(words("5", 60.0),)),))
    foot = Group(role=Role.DECORATION, items=(words("page 1", 190.0),))
    sign = Group(role=Role.SPAN, alt="⌀", items=(Circle(x=9.0, y=30.0, radius=2.0, fill=INK),))
    text = Group(role=Role.PARAGRAPH, items=(words("hole", 30.0), sign, words("5 mm", 40.0)))
    pages = (page(text, figure), page(Group(role=Role.TABLE, items=(row,)), foot))
    reader = read(typeset(document(*pages)))
    assert reader.root_object["/MarkInfo"]["/Marked"] == True  # noqa: E712 - a PDF boolean
    root = reader.root_object["/StructTreeRoot"]

    def outline(node: pypdf.generic.DictionaryObject) -> object:
        said = node.get("/Alt", node.get("/ActualText"))
        kids = [kid if isinstance(kid, int) else outline(kid.get_object()) for kid in node["/K"]]
        return (str(node["/S"]), said, kids)

    assert outline(root["/K"]) == (
        "/Document",
        None,
        [
            ("/P", None, [0, ("/Span", "⌀", [1]), 2]),
            ("/Figure", "A ring", [3]),
            ("/Table", None, [("/TR", None, [("/TD", None, [0])])]),
        ],
    )
    numbers = root["/ParentTree"]["/Nums"]
    owners = [[str(owner.get_object()["/S"]) for owner in numbers[index].get_object()] for index in (1, 3)]
    assert owners == [["/P", "/Span", "/P", "/Figure"], ["/TD"]]
    assert [sheet["/StructParents"] for sheet in reader.pages] == [0, 1]
    content = reader.pages[1].get_contents()
    assert content is not None
    assert content.get_data().count(b"/Artifact BMC") == 1
    assert content.get_data().count(b"BDC") + 1 == content.get_data().count(b"EMC")
