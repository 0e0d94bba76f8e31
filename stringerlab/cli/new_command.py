"""``new``: begin a project from a sample."""

import argparse
import json

from stringerlab.files import new_from_sample


def run(options: argparse.Namespace) -> int:
    """Write the new project and say where."""
    new_from_sample(options.sample, options.file)
    if options.json:
        print(json.dumps({"created": str(options.file), "sample": options.sample}, ensure_ascii=False))
    else:
        print(f"Wrote {options.file} from the sample '{options.sample}'.")
    return 0
