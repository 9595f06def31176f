"""Tries millions of texts, made from known ones and led by what they reach in the code.

    python tests/fuzz/run.py text --runs 2000000 --corpus build/fuzz/text

It needs atheris (`pip install -e '.[fuzz]'`). What it finds is written as `crash-...` beside the
corpus; run it again with `--again FILE`. Each such file becomes a test of its kind, not of itself.
"""

from __future__ import annotations

import argparse
import pkgutil
import sys
from importlib import import_module
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["fretloom"], exclude=["fretloom.values"]):
    import laws

    import fretloom

    # What is imported on first use would be left out of the count.
    for module in pkgutil.walk_packages(fretloom.__path__, "fretloom."):
        if not module.name.endswith("__main__"):
            import_module(module.name)

import seeds


def main() -> None:
    """Run one law until it fails or has been tried as often as asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("law", choices=laws.LAWS)
    parser.add_argument(
        "--runs", type=int, default=100_000, help="how many inputs (default: 100000)"
    )
    parser.add_argument("--corpus", type=Path, default=Path("build/fuzz/corpus"))
    parser.add_argument("--longest", type=int, default=2_000, help="bytes of an input")
    parser.add_argument("--seconds", type=int, default=10, help="more for one input is a fault")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--again", type=Path, help="try this file only")
    asked = parser.parse_args()
    law = laws.LAWS[asked.law]
    if asked.again:
        law(asked.again.read_bytes())
        return
    listed = seeds.write(asked.law, asked.corpus)
    atheris.Setup(
        [
            sys.argv[0],
            str(asked.corpus),
            f"-atheris_runs={asked.runs}",
            f"-runs={asked.runs}",
            f"-dict={listed}",
            f"-max_len={asked.longest}",
            f"-timeout={asked.seconds}",
            f"-seed={asked.seed}",
            "-rss_limit_mb=2000",
            "-print_final_stats=1",
            f"-artifact_prefix={asked.corpus.parent}/",
        ],
        law,
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main()
