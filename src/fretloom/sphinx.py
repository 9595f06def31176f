"""The extension of Sphinx, for `extensions = ["fretloom.sphinx"]`: lessons in documentation.

Needs Sphinx, which is the only one that imports it.
"""

from __future__ import annotations

from fretloom.frontends.sphinx_directive.extension import setup

__all__ = ["setup"]
