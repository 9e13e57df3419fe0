"""The scan finds every output, and a build gives sorted names and equal bytes."""

from __future__ import annotations

import fnmatch

import pytest
from tests.support.results_fixture import works

from fedfrom.documents.registry import all_outputs, build_all


def test_outputs_have_distinct_names_titles_and_files() -> None:
    outputs = all_outputs()
    assert {"results", "schedules", "specification", "bill", "findings"} <= {output.name for output in outputs}
    assert len({output.title for output in outputs}) == len(outputs)


def test_only_the_named_output_is_written() -> None:
    assert list(build_all(works(), only=["results"])) == ["results.json"]
    with pytest.raises(KeyError):
        build_all(works(), only=["resluts"])


def test_files_are_those_that_the_output_names() -> None:
    design = works()
    for output in all_outputs():
        if output.name == "one-line":
            continue  # needs a network with edges: tested with the drawing
        for name in output.write(design):
            assert any(fnmatch.fnmatch(name, pattern) for pattern in output.files), (output.name, name)
