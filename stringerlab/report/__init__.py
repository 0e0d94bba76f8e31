"""Documents and pages set by Typst. The only room that knows it; loaded when the first page is wanted."""

from stringerlab.report.workings import WorkingsFormat, workings_page, workings_text

__all__ = ["WorkingsFormat", "workings_page", "workings_text"]
