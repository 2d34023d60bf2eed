"""What ``formwork start`` does: a commented project file, copied from the templates, never over another file."""

from __future__ import annotations

from pathlib import Path
from typing import TextIO

from formwork.cli.shape_list import known_name
from formwork.errors import OutputError
from formwork.shapes.register import register
from formwork.shipped import read_template

SHOP = "shop"


def start_file(shape: str, file: str | None) -> str:
    """Write the starter file of a shape, or of a shop.

    Args:
        shape: name of a shape, or ``shop``.
        file: where to write; None for the shape's name in this folder, ``-`` to have the text itself.

    Returns:
        What to tell the person, or the text where it was asked for.

    Raises:
        click.BadParameter: for a name that is no shape.
        OutputError: if the file exists or cannot be written.
    """
    name = known_name(shape, (*register(), SHOP))
    text = read_template(f"{name}.toml")
    if file == "-":
        return text
    path = Path(file or f"{name.replace(' ', '-')}.toml")
    _write_new(path, text)
    return f"{path} written. {_next_step(name, path)}\n"


def _next_step(shape: str, path: Path) -> str:
    if shape == SHOP:
        return f'Name it in a project file: shop = "{path.name}".'
    return f"Change what you like in it, then: formwork plan {path}"


def _write_new(path: Path, text: str) -> None:
    """Write a file that must not exist yet; nothing is left of it where writing fails.

    Raises:
        OutputError: saying why it could not be written.
    """
    if path.is_dir():
        raise OutputError(f"{path} is a folder; name a file in it, such as {path / 'project.toml'}")
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            _fill(file, text, path)
    except FileExistsError as error:
        raise OutputError(f"{path} exists and is left as it is; name another file") from error
    except OSError as error:
        raise OutputError(f"cannot write {path}: {(error.strerror or str(error)).lower()}") from error


def _fill(file: TextIO, text: str, path: Path) -> None:
    try:
        file.write(text)
        file.flush()
    except BaseException:
        path.unlink(missing_ok=True)
        raise
