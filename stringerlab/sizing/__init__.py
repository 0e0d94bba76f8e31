"""The program proposes: lighter designs, what would help most, scatter, studies; and how runs are run."""
