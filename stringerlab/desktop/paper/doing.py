"""What the File menu does with documents: each goes to the page Paper and asks there."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, cast

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from stringerlab.desktop.pages.paper import PaperPage


def paper_doings(
    show_page: Callable[[str], None], made: Mapping[str, QWidget]
) -> dict[str, Callable[[], object]]:
    """Return what is done for each action, by its id; the page is made when it is first asked for.

    Parameters
    ----------
    show_page
        Shows a page by its id.
    made
        The pages shown so far, by their ids.
    """

    def page() -> "PaperPage":
        show_page("paper")
        return cast("PaperPage", made["paper"])

    return {
        "write_report": lambda: page().ask_report(),
        "write_sheets": lambda: page().ask_sheets(),
        "export_data": lambda: page().ask_export(),
    }
