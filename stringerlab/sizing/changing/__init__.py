"""What may change in a boat: variables, the space of designs they span, and designs made boats again."""
