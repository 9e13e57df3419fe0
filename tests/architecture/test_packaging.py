"""The package list of pyproject.toml holds every package, and the fixed top level is kept."""

from __future__ import annotations

import subprocess
import tomllib
from pathlib import Path

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "compiler",
    "grammar",
    "templates",
    "tests",
    "specs",
}


def test_every_package_is_listed(root: Path) -> None:
    listed = set(tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["packages"])
    source = root / "compiler"
    packages = {
        ".".join(file.parent.relative_to(source).parts)
        for file in source.rglob("__init__.py")
        if "__pycache__" not in file.parts
    }
    assert listed == packages | {"fedfrom.grammar", "fedfrom.templates"}


def test_top_level_is_fixed(root: Path) -> None:
    tracked = subprocess.run(["git", "ls-files"], cwd=root, capture_output=True, text=True, check=True).stdout.split(
        "\n"
    )
    top = {name.split("/")[0] for name in tracked if name}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL


def test_no_registry_host_in_the_repository(root: Path) -> None:
    hosts = ["pypi." + "org", "pythonhosted." + "org", "registry.npmjs." + "org", "deb.debian." + "org"]
    arguments = [part for host in hosts for part in ("-e", host)]
    found = subprocess.run(["git", "grep", "-lF", *arguments], cwd=root, capture_output=True, text=True, check=False)
    assert found.stdout == ""
