"""Finished pages to the bytes of a PDF file; in: a `Document`, out: bytes.

The last stage: it draws, and decides nothing. The file is PDF 1.7, its fonts embedded and cut down to the
characters used, its content tagged for readers who hear it (ISO 32000-1, 14.7 and 14.8), with an outline,
page labels and metadata. The same document gives the same bytes on the same zlib; another zlib may pack the
streams otherwise, with the same content.
"""

import hashlib
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import partial
from io import BytesIO
from typing import Any

from compiler.booklet.content import ContentWriter, Element
from compiler.booklet.fonts import font, font_name, kerns, missing_glyphs
from compiler.booklet.isolation import isolated
from compiler.booklet.page import Anchor, Document, Face, Group, Item, Link, Page, Role
from compiler.booklet.pictures import registered

with isolated():
    from reportlab import rl_config
    from reportlab.pdfbase import pdfdoc
    from reportlab.pdfgen.canvas import Canvas

_PINNED = {
    "canvas_baseColor": None,
    "debug": 0,
    "invariant": 1,
    "pageCompression": 1,
    "pdfComments": 0,
    "pdfMultiLine": 0,
    "useA85": 0,
}
"""Settings of reportlab that reach the bytes, whatever a program that imported it before us has set."""


_PACKING = 5
"""Level of zlib: a seventieth larger than by its own choice, 6, in little more than half the time."""


def typeset(document: Document) -> bytes:
    """The document as a PDF file.

    Raises ValueError if a character has no glyph or a link has no anchor: both are mistakes of an earlier
    stage.
    """
    _check(document)
    with isolated(), _pinned():
        canvas = _canvas(document)
        structure = _Structure(canvas)
        for number, page in enumerate(document.pages):
            _draw(canvas, structure, number, page)
        structure.finish()
        out: bytes = canvas.getpdfdata()
    return out


@contextmanager
def _pinned() -> Iterator[None]:
    before = {name: getattr(rl_config, name) for name in _PINNED}
    for name, value in _PINNED.items():
        setattr(rl_config, name, value)
    pdfdoc.PDFZCompress.encode = _packed
    try:
        yield
    finally:
        del pdfdoc.PDFZCompress.encode
        for name, value in before.items():
            setattr(rl_config, name, value)


def _packed(stream: str | bytes) -> bytes:
    return zlib.compress(stream.encode("utf-8") if isinstance(stream, str) else stream, _PACKING)


def _check(document: Document) -> None:
    if not document.pages:
        raise ValueError("a document needs a page")
    anchors: set[str] = set()
    links: list[str] = []
    for page in document.pages:
        for item in _leaves(page.items):
            if isinstance(item, Anchor):
                if item.name in anchors:
                    raise ValueError(f"two anchors are called {item.name!r}")
                anchors.add(item.name)
            elif isinstance(item, Link):
                links.append(item.anchor)
    for name in links:
        if name not in anchors:
            raise ValueError(f"a link leads to {name!r}, which is nowhere")


def _leaves(items: tuple[Item, ...]) -> Iterator[Item]:
    for item in items:
        if isinstance(item, Group):
            yield from _leaves(item.items)
        else:
            yield item


class _Info(pdfdoc.PDFInfo):  # type: ignore[misc]  # reportlab has no types
    """The metadata of the file, without a date unless one was given."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.title, self.author, self.subject = document.title, document.author, document.subject
        self.keywords = ", ".join(document.keywords)
        self._created = document.created

    def format(self, document: Any) -> bytes:
        entries = {
            "Title": pdfdoc.PDFString(self.title),
            "Author": pdfdoc.PDFString(self.author),
            "Subject": pdfdoc.PDFString(self.subject),
            "Keywords": pdfdoc.PDFString(self.keywords),
            "Creator": pdfdoc.PDFString("Annulet"),
            "Producer": pdfdoc.PDFString("Annulet"),
        }
        if self._created is not None:
            moment = datetime.fromtimestamp(self._created, UTC)
            stamp = pdfdoc.PDFString(f"D:{moment:%Y%m%d%H%M%S}Z")
            entries |= {"CreationDate": stamp, "ModDate": stamp}
        out: bytes = pdfdoc.PDFDictionary(entries).format(document)
        return out


def _canvas(document: Document) -> Any:
    """An empty canvas that knows all about the document but its pages."""
    font(Face.REGULAR)
    canvas = Canvas(
        BytesIO(),
        pageCompression=1,
        invariant=1,
        pdfVersion=(1, 7),
        initialFontName=font_name(Face.REGULAR),
        lang=document.language,
    )
    canvas._doc.info = _Info(document)
    # the file identifier (ISO 32000-1, 14.4) follows from the whole content and from nothing else
    canvas._doc.signature = hashlib.md5(repr(document).encode(), usedforsecurity=False)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    if any(
        isinstance(item, Anchor) and item.title for page in document.pages for item in _leaves(page.items)
    ):
        canvas.showOutline()
    return canvas


def _draw(canvas: Any, structure: "_Structure", number: int, page: Page) -> None:
    """Add one page."""
    canvas.setPageSize((page.width, page.height))
    canvas.setTrimBox((0, 0, page.width, page.height))
    canvas._preamble = ""  # every item names its own font and colours

    writer = ContentWriter(page.height, partial(_encode, canvas._doc), partial(registered, canvas))
    writer.write(page.items)
    for line in writer.lines:
        canvas.addLiteral(line)
    for item in _leaves(page.items):
        if isinstance(item, Anchor):
            canvas.bookmarkHorizontalAbsolute(item.name, page.height - item.y, left=item.x)
            if item.title is not None:
                canvas.addOutlineEntry(item.title, item.name, item.level)
        elif isinstance(item, Link):
            corners = (item.x, page.height - item.y - item.height, item.x + item.width, page.height - item.y)
            canvas.linkAbsolute(item.says, item.anchor, corners, Border="[0 0 0]")
    canvas.addPageLabel(number, prefix=page.label)
    canvas.showPage()
    structure.add(writer.elements, writer.owners)


def _encode(file: Any, text: str, face: Face) -> tuple[tuple[str, str], ...]:
    """The text as font resources and operands of TJ, one pair for each subset of the font that it needs."""
    if missing := missing_glyphs(text, (face,)):
        raise ValueError(f"the {face.value} face has no {' '.join(missing)}")
    out: list[tuple[str, str]] = []
    spaces = iter(kerns(text, face))
    for subset, codes in font(face).splitString(text, file):
        operands = ["<"]
        for code, space in zip(codes, spaces, strict=False):  # one byte a character
            operands.append(f"{code:02x}" if space == 0 else f"{code:02x}> {-space} <")
        array = "".join([*operands, ">"]).removesuffix(" <>")
        out.append((font(face).getSubsetInternalName(subset, file), array))
    return tuple(out)


class _Structure:
    """Builds the structure tree, page by page."""

    def __init__(self, canvas: Any) -> None:
        self._canvas = canvas
        self._root = pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("StructTreeRoot")})
        self._root_ref = canvas._doc.Reference(self._root, "StructTreeRoot")
        self._top = pdfdoc.PDFDictionary(
            {"Type": pdfdoc.PDFName("StructElem"), "S": pdfdoc.PDFName("Document"), "P": self._root_ref}
        )
        self._top_ref = canvas._doc.Reference(self._top, "StructDocument")
        self._kids: list[Any] = []
        self._parents: list[Any] = []
        self._count = 0

    def add(self, elements: list[Element], owners: list[Element]) -> None:
        """The elements of the page that was just finished."""
        pages = self._canvas._doc.Pages.pages
        page = self._canvas._doc.idToObject[f"Page{len(pages)}"]
        refs: dict[int, Any] = {}
        self._kids += [self._element(element, self._top_ref, pages[-1], refs) for element in elements]
        page.__NoDefault__ = [*pdfdoc.PDFPage.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents = len(self._parents) // 2
        page.Tabs = pdfdoc.PDFName("S")
        self._parents += [len(self._parents) // 2, pdfdoc.PDFArray([refs[id(owner)] for owner in owners])]

    def finish(self) -> None:
        """Hang the tree into the file."""
        self._top.dict["K"] = pdfdoc.PDFArray(self._kids)
        self._root.dict["K"] = self._top_ref
        self._root.dict["ParentTree"] = pdfdoc.PDFDictionary({"Nums": pdfdoc.PDFArray(self._parents)})
        catalog = self._canvas._doc.Catalog
        catalog.StructTreeRoot = self._root_ref
        catalog.MarkInfo = pdfdoc.PDFDictionary({"Marked": "true"})

    def _element(self, element: Element, parent: Any, page: Any, refs: dict[int, Any]) -> Any:
        entries = {
            "Type": pdfdoc.PDFName("StructElem"),
            "S": pdfdoc.PDFName(element.role.value),
            "P": parent,
            "Pg": page,
        }
        if element.alt is not None:
            entries["ActualText" if element.role is Role.SPAN else "Alt"] = pdfdoc.PDFString(element.alt)
        node = pdfdoc.PDFDictionary(entries)
        ref = self._canvas._doc.Reference(node, f"StructElem{self._count}")
        self._count += 1
        refs[id(element)] = ref
        kids = [
            child if isinstance(child, int) else self._element(child, ref, page, refs)
            for child in element.children
        ]
        node.dict["K"] = pdfdoc.PDFArray(kids)
        return ref
