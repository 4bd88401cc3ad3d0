"""A paper printed as HTML and as PDF: every word is there, and none of it is read as markup."""

from __future__ import annotations

import io
import re
from html.parser import HTMLParser

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fieldbook.papers.paper import (
    Block,
    Caution,
    Checklist,
    Code,
    Facts,
    Figure,
    Heading,
    NewPage,
    Paper,
    Paragraph,
    Photo,
    Signatures,
    Swatch,
    Table,
    Tag,
    Tags,
    joined,
)
from fieldbook.papers.printing.codes import MOST_BYTES, split_text
from fieldbook.papers.printing.html_page import html_page
from fieldbook.papers.printing.pdf_page import Size, pdf_page

RED_BLACK = Swatch("red/black", "#c22222", "#000000")
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="200" height="80"/>'
HOSTILE = (
    '"><script>alert(1)</script>',
    "#eval(1) $x^2$ *bold* _it_ @ref <label> // gone",
    "{{ 7 * 7 }} {% raw %}",
    "]} #import x",
)


def _jpeg() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "#446633").save(out, "JPEG")
    return out.getvalue()


def _paper(*blocks: Block) -> Paper:
    return Paper("trial", "Trial paper", ("14 Alder Lane",), blocks)


def _every_block(words: str) -> Paper:
    return _paper(
        Heading(f"heading {words}"),
        Paragraph(f"paragraph {words}"),
        Caution(f"caution {words}", f"source {words}"),
        Facts(((f"label {words}", f"value {words}"), ("wire", RED_BLACK))),
        Table(("Terminal", f"header {words}"), (("1", f"cell {words}"), ("2", RED_BLACK))),
        Checklist((f"item {words}", "seen"), frozenset({1})),
        Figure(SVG, f"figure {words}", f"shows {words}"),
        Photo(_jpeg(), f"photo {words}", f"took {words}"),
        Code("1 red/black front", f"code {words}"),
        Tags((Tag(f"tag {words}", (f"line {words}", RED_BLACK), Code("box A", "scan me")),)),
        NewPage(),
        Signatures((f"person {words}",)),
    )


class _Read(HTMLParser):
    """Collects the text, the tags and the addresses of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.text = ""
        self.tags: list[str] = []
        self.addresses: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.addresses += [value or "" for name, value in attrs if name in ("src", "href")]

    def handle_data(self, data: str) -> None:
        self.text += data


def _read(page: str) -> _Read:
    read = _Read()
    read.feed(page)
    return read


def _pdf_text(pdf: bytes) -> str:
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(page.get_textpage().get_text_range() for page in pages)


def _squeezed(text: str) -> str:
    """Text without spaces and without the breaks that a line may have got."""
    return re.sub(r"[\s\u200b\ufffe\u00ad-]", "", text)


PARTS = (
    "heading paragraph caution source label value header cell item shows took code tag line person"
)


@pytest.mark.parametrize("words", HOSTILE)
def test_the_page_shows_hostile_words_as_they_are(words: str) -> None:
    read = _read(html_page(_every_block(words)))
    assert "script" not in read.tags
    for part in PARTS.split():
        assert f"{part} {words}" in read.text


@pytest.mark.parametrize("words", HOSTILE)
def test_the_pdf_shows_hostile_words_as_they_are(words: str) -> None:
    text = _squeezed(_pdf_text(pdf_page(_every_block(words), "us-letter")))
    for part in PARTS.split():
        assert _squeezed(f"{part} {words}") in text


def test_the_page_asks_for_nothing_from_anywhere() -> None:
    page = html_page(_every_block("x"))
    assert all(address.startswith("data:image/") for address in _read(page).addresses)
    assert "default-src 'none'" in page
    assert not re.search(r"url\(|@import|<link|<script", page)


@pytest.mark.parametrize(("size", "inches"), [("us-letter", (8.5, 11)), ("a4", (8.27, 11.69))])
def test_the_pdf_is_of_the_size_asked_for(size: Size, inches: tuple[float, float]) -> None:
    pages = pypdfium2.PdfDocument(pdf_page(_every_block("x"), size))
    for page in pages:
        assert tuple(points / 72 for points in page.get_size()) == pytest.approx(inches, abs=0.01)


def test_a_swatch_stands_beside_its_word_on_both() -> None:
    paper = _paper(Facts((("wire", RED_BLACK),)))
    page = html_page(paper)
    assert "red/black" in _read(page).text
    assert "#c22222" in page
    pdf = pdf_page(paper, "a4")
    assert "red/black" in _pdf_text(pdf)
    seen = pypdfium2.PdfDocument(pdf)[0].render(scale=2).to_pil().convert("RGB").getcolors(1 << 22)
    assert (0xC2, 0x22, 0x22) in {colour for _, colour in seen or []}


def test_the_code_of_a_pdf_is_read_by_another_library() -> None:
    text = "14 Alder Lane\n1 red/black front lawn\n2 blue rosas - \u00f1"
    pdf = pdf_page(_paper(Code(text, "The wire map.")), "us-letter")
    found = zxingcpp.read_barcodes(pypdfium2.PdfDocument(pdf)[0].render(scale=3).to_pil())
    assert [code.text for code in found] == [text]


def test_a_code_is_read_with_a_tenth_of_it_torn_off() -> None:
    text = "\n".join(f"{number} red/black zone {number}" for number in range(1, 20))
    pdf = pdf_page(_paper(Code(text, "The wire map.")), "us-letter")
    picture = pypdfium2.PdfDocument(pdf)[0].render(scale=4).to_pil()
    box = zxingcpp.read_barcodes(picture)[0].position
    wide = box.bottom_right.x - box.top_left.x
    # The corner without a finder is gone: 0.3 of the width by 0.3 of the height is 9 %.
    torn = (box.bottom_right.x - int(0.3 * wide), box.bottom_right.y - int(0.3 * wide))
    picture.paste("white", (*torn, box.bottom_right.x, box.bottom_right.y))
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == [text]


@given(st.lists(st.text(st.characters(codec="utf-8", exclude_characters="\n"), max_size=200)))
def test_splitting_loses_no_line_and_keeps_to_the_limit(lines: list[str]) -> None:
    parts = split_text("Lane", tuple(lines))
    assert [line for part in parts for line in part.split("\n")[1:]] == lines
    for number, part in enumerate(parts, start=1):
        assert len(part.encode()) <= MOST_BYTES + 200 * 4 * (part.count("\n") == 1)
        assert part.startswith("Lane" if len(parts) == 1 else f"Lane {number} of {len(parts)}")


def test_papers_joined_stand_one_after_another() -> None:
    first, second = _paper(Paragraph("one")), Paper("b", "Second", (), (Paragraph("two"),))
    whole = joined("packet", "Packet", ("for the owner",), (first, second))
    assert [type(block).__name__ for block in whole.blocks] == [
        "Heading",
        "Paragraph",
        "NewPage",
        "Heading",
        "Paragraph",
    ]
