"""The parts of judging very many designs at once: what they are made of, as rows of arrays."""
