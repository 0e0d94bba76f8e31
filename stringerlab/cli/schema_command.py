"""``schema``: the project file's JSON schema."""

import argparse
import json

from stringerlab.files import schema


def run(options: argparse.Namespace) -> int:
    """Print the schema; it is JSON with or without ``--json``."""
    del options
    print(json.dumps(schema(), indent=2, ensure_ascii=False))
    return 0
