"""Office files with equal bytes: the zip rewritten with sorted entries and a fixed date."""

from __future__ import annotations

import io
import zipfile

from fedfrom.documents.registry import DOCUMENT_EPOCH


def fixed_zip(data: bytes) -> bytes:
    """The same archive with its entries sorted ([Content_Types].xml first, as readers expect) and dated alike."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for name in sorted(source.namelist(), key=lambda each: (each != "[Content_Types].xml", each)):
            entry = zipfile.ZipInfo(name, (*DOCUMENT_EPOCH, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 0
            entry.external_attr = 0
            target.writestr(entry, source.read(name))
    return out.getvalue()
