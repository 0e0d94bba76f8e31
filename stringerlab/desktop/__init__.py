"""The window. PySide6 is known here only; the core runs without it."""
