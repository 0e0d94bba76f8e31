"""Documents in the window: their pages as a preview, their particulars, and the files they become."""
