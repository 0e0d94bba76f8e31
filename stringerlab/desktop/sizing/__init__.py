"""Parts of the page Size for me: what is asked at the left, what was found at the right."""
