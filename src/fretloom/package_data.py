"""Reads the files that lie in the package beside its modules: grammar, tables, pages."""

from __future__ import annotations

import os
from importlib import import_module


def packaged_text(package: str, name: str) -> str:
    """Return a text file of a package with LF line ends; `name` goes on from the package, with `/`.

    Raises:
        FileNotFoundError: there is no such file.
    """
    return packaged_bytes(package, name).decode("utf-8").replace("\r\n", "\n")


def packaged_bytes(package: str, name: str) -> bytes:
    """Return a file of a package; `name` goes on from the package, with `/`.

    The package may lie in a folder, in a zip file or in a frozen application: whatever imported it
    reads its files too.

    Raises:
        FileNotFoundError: there is no such file.
    """
    module = import_module(package)
    data_of = getattr(getattr(module.__spec__, "loader", None), "get_data", None)
    if data_of is None:
        # Reads by any loader, but brings in archives and temporary files first.
        from importlib.resources import files

        return files(package).joinpath(name).read_bytes()
    try:
        data: bytes = data_of(os.path.join(*module.__path__[:1], *name.split("/")))  # noqa: PTH118
    except OSError:
        raise FileNotFoundError(f"{name} is missing from the package {package}") from None
    return data
