"""Where the files that travel with the program are: starter projects, page templates and whole examples.

In a checkout they stand at its top (``templates/``, ``examples/``); a wheel carries them inside the package,
under ``carried/``. Both are looked up beside this file, so they are found whatever folder the program runs in.
"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from formwork.errors import InternalError

Shelf = Literal["templates", "examples"]

_PACKAGE = Path(__file__).resolve().parent


def shelf(name: Shelf) -> Path:
    """The folder of that name.

    Raises:
        InternalError: if the program was installed without it.
    """
    for folder in (_PACKAGE / "carried" / name, _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise InternalError(f"this installation of formwork lacks its {name} folder: install it again")


def read_template(name: str) -> str:
    """The text of one file of ``templates/``, by its name there.

    Raises:
        InternalError: if there is no such file.
    """
    path = shelf("templates") / name
    if not path.is_file():
        raise InternalError(f"this installation of formwork lacks templates/{name}: install it again")
    return path.read_text(encoding="utf-8")
