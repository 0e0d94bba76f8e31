"""Documents as a reader has them: the words of their pages, read from the PDF by another library."""

import io
from collections.abc import Callable, Collection
from functools import lru_cache

import pytest
from pypdf import PageObject, PdfReader
from pypdf.generic import Destination

Read = Callable[[bytes], list[str]]
ReadParts = Callable[[bytes, Collection[str]], list[str]]


def pages_text(document: bytes) -> list[str]:
    """Return the words of each page, single spaces between them, breaks within long words taken out."""
    return list(_pages_text(document))


@lru_cache(maxsize=4)
def _pages_text(document: bytes) -> tuple[str, ...]:
    return tuple(_text(page) for page in PdfReader(io.BytesIO(document)).pages)


def _text(page: PageObject) -> str:
    return " ".join(page.extract_text().replace("\u200b", "").split())


def parts_text(document: bytes, titles: Collection[str]) -> list[str]:
    """Return the words of each page of some parts alone, found by their bookmarks; each must be there."""
    reader = PdfReader(io.BytesIO(document))
    begins = {
        str(mark.title).split(" ", 1)[1]: reader.get_destination_page_number(mark) or 0
        for mark in reader.outline
        if isinstance(mark, Destination)
    }
    pages: set[int] = set()
    for title in titles:
        first = begins[title]
        after = min((page for page in begins.values() if page > first), default=len(reader.pages) - 1)
        pages.update(range(first, after + 1))
    return [_text(reader.pages[page]) for page in sorted(pages)]


@pytest.fixture(scope="session")
def read() -> Read:
    """Return what reads a PDF's pages."""
    return pages_text


@pytest.fixture(scope="session")
def read_parts() -> ReadParts:
    """Return what reads the pages of some parts of a PDF: a hundred pages of workings take ten seconds."""
    return parts_text
