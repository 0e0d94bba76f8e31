"""The drawing sheet: a section drawn, shaped and read on paper."""

from stringerlab.desktop.sheet.canvas import Sheet

__all__ = ["Sheet"]
