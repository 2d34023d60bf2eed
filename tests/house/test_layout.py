"""The house as DEVELOPERS.md draws it, and the README's commands as they stand."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MADE = {"packet", "build", "dist"}
"""Folders that commands of the README and of packaging make; .gitignore names them."""


def read(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def blocks(name: str) -> list[str]:
    return [block.strip() for block in re.findall(r"^```sh\n(.*?)^```$", read(name), re.M | re.S)]


def test_the_top_level_is_exactly_what_developers_md_names():
    named = set(
        re.findall(
            r"^\| `([^`/]+)/?` \|",
            read("DEVELOPERS.md").partition("## Top level")[2].partition("\n## ")[0],
            re.M,
        )
    )
    ignored = {entry.strip().strip("/") for entry in read(".gitignore").splitlines()}
    found = {path.name for path in ROOT.iterdir()}
    found = {
        name
        for name in found
        if not name.startswith(".") and name not in MADE & ignored and not name.endswith(".egg-info")
    }
    assert found == {name for name in named if not name.startswith(".")}
    assert {name for name in named if name.startswith(".")} <= {path.name for path in ROOT.iterdir()}


def test_the_first_two_blocks_of_the_readme_are_its_two_commands():
    first, second = blocks("README.md")[:2]
    for command in (first, second):
        assert "\n" not in command
        assert re.match(r"python3 -m venv (\S+) && \1/bin/pip install ", command)
    assert re.search(r"formwork packet examples/\S+\.toml -o packet$", first)
    assert re.search(r"python -m pytest( -q)?( -n auto --dist loadfile)?$", second)


def test_files_that_the_documents_name_exist():
    for name in ("README.md", "DEVELOPERS.md"):
        text = read(name)
        linked = re.findall(r"\]\(([^)#:\s]+)\)", text) + re.findall(
            r"`((?:examples|templates|tests|formwork|\.ci)/[\w./-]*)`", text
        )
        assert linked
        for target in linked:
            assert target.startswith("formwork/carried") or (ROOT / target).exists(), f"{name} names {target}"


def test_every_published_source_is_in_the_verification_table():
    table = read("DEVELOPERS.md").partition("## Verification")[2]
    sources = sorted(path.name for path in (ROOT / "tests" / "verification").glob("test_*.py"))
    assert sources
    assert [name for name in sources if f"`tests/verification/{name}`" not in table] == []


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_commands_that_the_documents_show_exist(name):
    from formwork.cli.commands import commands  # noqa: PLC0415 - click only where it is needed

    shown = set(re.findall(r"\bformwork ([a-z]+)\b(?= )", "\n".join(blocks(name))))
    assert shown <= set(commands.commands)


def test_every_dependency_is_imported_somewhere():
    names = {"pillow": "ezdxf"}
    """ezdxf imports Pillow without declaring it."""
    declared = tomllib.loads(read("pyproject.toml"))["project"]["dependencies"]
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "formwork").rglob("*.py"))
    for requirement in declared:
        name = re.split(r"[><=~ ]", requirement)[0]
        assert re.search(rf"(import|from) {names.get(name, name)}\b|import_module\(\"{name}\"\)", code), name
