"""Where things lie that tests read."""

from pathlib import Path

PROJECT = Path(__file__).parents[2]
SOURCE = PROJECT / "src" / "fretloom"
EXAMPLES = PROJECT / "examples"
TESTS = PROJECT / "tests"
DATA = TESTS / "data"
