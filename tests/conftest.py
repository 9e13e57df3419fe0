"""Options and fixtures for all tests."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path

import pytest

from fedfrom.cli.main import COLLECT_SELDOM

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))

# The scripts start the command a hundred times: what Python compiled for one start serves the next.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
gc.set_threshold(*COLLECT_SELDOM)  # as the command does


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept", action="store_true", help="Rewrite golden files with what the program gives now.")


@pytest.fixture
def accept(request: pytest.FixtureRequest) -> bool:
    """Whether golden files are to be rewritten."""
    return bool(request.config.getoption("--accept"))


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the repository."""
    return ROOT
