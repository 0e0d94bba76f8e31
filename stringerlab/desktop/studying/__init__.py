"""Parts of the pages that ask what would help, what scatter does, and what a change brings."""
