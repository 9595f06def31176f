"""Commands that make what students take home."""
