"""The plan: a layout's members on the hull bottom, drawn, moved, spaced and judged."""
