"""Documents as a reader has them: the words of their pages, read from the PDF by another library."""

import io
from collections.abc import Callable
from functools import lru_cache

import pytest
from pypdf import PdfReader

Read = Callable[[bytes], list[str]]


def pages_text(document: bytes) -> list[str]:
    """Return the words of each page, single spaces between them, breaks within long words taken out."""
    return list(_pages_text(document))


@lru_cache(maxsize=4)
def _pages_text(document: bytes) -> tuple[str, ...]:
    return tuple(
        " ".join(page.extract_text().replace("\u200b", "").split())
        for page in PdfReader(io.BytesIO(document)).pages
    )


@pytest.fixture(scope="session")
def read() -> Read:
    """Return what reads a PDF's pages."""
    return pages_text
