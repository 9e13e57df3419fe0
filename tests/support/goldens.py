"""How the documents of a sample are kept as golden files: texts whole, of long texts and other files the SHA-256.

The libraries that write those other files may change a byte with each of their releases, so the list of digests begins
with the releases that it was made with, and is compared only where the same ones are installed.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).parents[2]
SPECS = ROOT / "specs"
GOLDEN = ROOT / "tests" / "golden"
DIGESTS = "binaries.txt"
_LONG_TEXTS = "long-texts.txt"
_LONG = 1_000_000
_TEXT = (".json", ".csv", ".md", ".svg", ".txt")
_FONT = re.compile(r"url\(data:font/woff2;base64,[^)]*\)")
_WRITERS = ("ezdxf", "python-docx", "typst", "xlsxwriter")


def samples() -> list[Path]:
    """Every sample: a file, or a folder with a `project.fed`."""
    return sorted([*SPECS.glob("*.fed"), *(folder.parent for folder in SPECS.glob("*/project.fed"))])


def as_kept(documents: Mapping[str, bytes]) -> dict[str, str]:
    """The documents as golden files hold them, by name (an SVG without its embedded fonts)."""
    texts = {name: data for name, data in documents.items() if name.endswith(_TEXT)}
    kept = {name: _text(name, data) for name, data in texts.items() if len(data) <= _LONG}
    long = _digests({name: data for name, data in texts.items() if len(data) > _LONG})
    if long:
        kept[_LONG_TEXTS] = long
    return kept | {DIGESTS: _releases() + _digests({n: data for n, data in documents.items() if n not in texts})}


def _digests(files: Mapping[str, bytes]) -> str:
    return "".join(f"{hashlib.sha256(data).hexdigest()}  {name}\n" for name, data in sorted(files.items()))


def kept(sample: Path) -> dict[str, str]:
    """The golden files of a sample, by name."""
    folder = GOLDEN / sample.stem
    files = [file for file in folder.rglob("*") if file.is_file()]
    return {file.relative_to(folder).as_posix(): file.read_bytes().decode("utf-8") for file in files}


def comparable(digests: str) -> bool:
    """Whether a list of digests was made with the libraries that are installed here."""
    return digests.startswith(_releases())


def _releases() -> str:
    return "# " + ", ".join(f"{name} {version(name)}" for name in _WRITERS) + "\n"


def _text(name: str, data: bytes) -> str:
    text = data.decode("utf-8")
    return _FONT.sub("url(…)", text) if name.endswith(".svg") else text
