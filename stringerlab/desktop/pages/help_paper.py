"""What the help page says of documents, drawings and tables that leave the program."""

PAPER = (
    "<b>Paper</b> shows a document as it will be printed: the calculation report a naval architect can check "
    "line by line, the sheets for the shop, or layouts side by side on one page. Choose it at the left; "
    "workings are of what governs or of every finding, and a second opinion on sections takes some seconds "
    "each. Page Up and Page Down turn pages, + and − change their size, W fits them to the width.",
    "Number, revision, names, date and list of changes are as you type them and go with the project; undo "
    "takes each back. What is left empty leaves a blank to fill in. The program dates nothing by itself, so "
    "that the same project gives the same file, byte by byte.",
    "After an edit the pages are set anew by themselves where that is quick; else they say that they are of "
    "before the last change, and Refresh sets them. What is written is always the project as it is now.",
    "<b>Write PDF</b> writes the document shown, <b>Write shop sheets</b> seven files into a folder, "
    "<b>Export</b> sections and layout as SVG or DXF and findings, properties and take-off as CSV. All go on "
    "while you work, and Stop ends them. A file is replaced whole or not at all. What is wrong and so not in "
    "a document is named below its pages.",
)
