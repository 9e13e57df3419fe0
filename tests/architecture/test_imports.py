"""Data flows one way: who may import whom, how long a file may be, and what start-up may not import."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "compiler" / "fedfrom"
LONGEST_FILE = 400
LONGEST_DECLARATIONS = 560  # a file of record types only, which is read as a table
DECLARATIONS = {"model/items.py", "results/types.py"}

# A package may import itself and these. Leaves first, in the order of the data flow.
ALLOWED = {
    "source": set(),
    "quantity": set(),
    "tables": {"quantity"},
    "findings": {"source"},
    "syntax": {"source", "findings"},
    "vocabulary": {"source", "findings", "quantity", "tables"},
    "model": {"source", "findings", "quantity", "tables", "syntax", "vocabulary"},
    "graph": {"source", "findings", "quantity", "model"},
    "formulas": {"quantity"},
    "results": {"source", "findings", "quantity", "model"},
    "passes": {"source", "findings", "quantity", "tables", "model", "graph", "formulas", "results"},
    "rules": {"source", "findings", "quantity", "tables", "model", "graph", "formulas", "results", "passes"},
    "drawing": {"quantity", "model", "graph", "results"},
    "documents": {"source", "findings", "quantity", "tables", "model", "graph", "results", "rules", "drawing"},
    "changes": {"source", "findings", "quantity", "model", "graph", "results"},
    "editing": {"source", "findings", "quantity", "syntax", "vocabulary", "model", "results"},
}
TOP_MODULES = {"__init__", "__main__", "compile"}
HEAVY = (
    "networkx",
    "jinja2",
    "typst",
    "openpyxl",
    "xlsxwriter",
    "docx",
    "ezdxf",
    "graphviz",
    "asyncio",
    "numpy",
    "lark",
)


def files() -> list[Path]:
    return sorted(file for file in PACKAGE.rglob("*.py") if "__pycache__" not in file.parts)


def imported(file: Path) -> set[str]:
    """The packages of ours that a file imports for use at run time (`if TYPE_CHECKING` left out)."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    found: set[str] = set()
    skipped: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            skipped |= {inner for statement in node.body for inner in ast.walk(statement)}
    for node in ast.walk(tree):
        if node in skipped:
            continue
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("fedfrom."):
            found.add(node.module.split(".")[1])
        elif isinstance(node, ast.Import):
            found |= {name.name.split(".")[1] for name in node.names if name.name.startswith("fedfrom.")}
    return found


def test_a_file_imports_only_packages_before_its_own() -> None:
    offenders = []
    for file in files():
        package = file.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if package in TOP_MODULES or package == "cli":
            continue
        assert package in ALLOWED, f"a new package: state in ALLOWED what it may import ({package})"
        late = imported(file) - ALLOWED[package] - {package}
        offenders += [f"{file.relative_to(PACKAGE)} imports {name}" for name in sorted(late)]
    assert offenders == []


def test_no_module_knows_everything() -> None:
    lengths = {file.relative_to(PACKAGE).as_posix(): file.read_text(encoding="utf-8").count("\n") for file in files()}
    longest = {name: LONGEST_DECLARATIONS if name in DECLARATIONS else LONGEST_FILE for name in lengths}
    assert [f"{name}: {length} lines" for name, length in lengths.items() if length > longest[name]] == []


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["check", "--help"], ["build", "--help"]])
def test_start_up_imports_nothing_heavy(arguments: list[str]) -> None:
    code = (
        "import sys\n"
        "from click.testing import CliRunner\n"
        "from fedfrom.cli.main import cli\n"
        "import fedfrom.cli.main\n"
        f"result = CliRunner().invoke(cli, {arguments!r})\n"
        "assert result.exit_code == 0, result.output\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
