"""The text in a git repository: branches, review, merge, and the recipes for CI, each run as a reader would."""

from __future__ import annotations

import json
import os
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from tests.support.command_server import command_on_path

ROOT = Path(__file__).parents[2]
RECIPES = ROOT / "templates" / "ci"
RESULTS = "--only results"
DRAWN = "--only one-line --only results"

PLANT = """fedfrom 1

project "Test bench" {
    number  "T-1"
    code    NEC 2023
}

utility UT {
    voltage     480Y/277 V
    fault       20 kA at service point, X/R 6
}

switchboard MSB "Main" {
    fed from    UT, 40 ft
    main        breaker 800 A, LSIG
    place       indoor "Room 1"
    electrode   building steel, 20 ft
}

panelboard DP1 "Line 1" {
    fed from    MSB, 120 ft
    place       indoor "Hall 1"
    heating     "Tunnel"        24 kW, 480 V 3-phase, 50 ft
}

panelboard DP2 "Line 2" {
    fed from    MSB, 160 ft
    place       indoor "Hall 2"
    lighting    "Hall 2"        2.4 kVA, 277 V, 80 ft
}

expect demand at MSB <= 200 A
"""


def board(tag: str) -> str:
    return (
        f'panelboard {tag} "Line {tag}" {{\n    fed from  MSB, 90 ft\n    place     indoor "Hall {tag}"\n'
        '    heating   "Oven"  12 kW, 480 V 3-phase, 40 ft\n}\n\n'
    )


@dataclass(frozen=True)
class Repository:
    folder: Path
    path: str

    def run(self, *words: str, expect: int | None = 0, **more: str) -> str:
        """What a command prints, both streams; its exit code must be as expected (None: any)."""
        environment = {
            "PATH": self.path, "HOME": str(self.folder.parent), "GIT_CONFIG_NOSYSTEM": "1",
            "GIT_AUTHOR_NAME": "A", "GIT_AUTHOR_EMAIL": "a@example.org",
            "GIT_COMMITTER_NAME": "A", "GIT_COMMITTER_EMAIL": "a@example.org", **more,
        }  # fmt: skip
        done = subprocess.run(
            words, cwd=self.folder, env=environment, capture_output=True, text=True, check=False, timeout=300
        )
        assert expect is None or done.returncode == expect, (words, done.returncode, done.stdout, done.stderr)
        return done.stdout + done.stderr

    def write(self, text: str) -> None:
        (self.folder / "plant.fed").write_text(text, encoding="utf-8")

    @property
    def text(self) -> str:
        return (self.folder / "plant.fed").read_text(encoding="utf-8")

    def build(self, only: str) -> None:
        self.run("fedfrom", "build", "plant.fed", "-o", "issued/plant", *only.split())

    def commit(self, message: str) -> None:
        self.run("git", "add", "-A")
        self.run("git", "commit", "-q", "-m", message)

    def merge(self) -> None:
        """`merged` holds both branches; a second time there is nothing left to merge."""
        self.run("git", "switch", "-q", "merged")
        self.run("git", "merge", "-q", "--no-edit", "yard")

    def drawing(self) -> str:
        return "".join(
            file.read_text(encoding="utf-8") for file in sorted((self.folder / "issued/plant").glob("*.svg"))
        )

    def results(self) -> dict[str, object]:
        loaded: dict[str, object] = json.loads((self.folder / "issued/plant/results.json").read_text(encoding="utf-8"))
        return loaded


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with command_on_path(tmp_path_factory.mktemp("bin")) as path:
        yield path


@pytest.fixture(scope="module")
def repository(tmp_path_factory: pytest.TempPathFactory, path: str) -> Repository:
    """`main` with the plant; `hall` and `yard`, which each add a feeder; `merged`, where both have come together."""
    made = Repository(tmp_path_factory.mktemp("repository"), path)
    made.run("git", "init", "-q", "-b", "main")
    made.run("git", "config", "merge.regenerate.driver", "true")
    (made.folder / ".gitattributes").write_bytes((RECIPES / "gitattributes").read_bytes())
    made.write(PLANT)
    made.run("fedfrom", "fmt", "--check", "plant.fed")
    made.build(RESULTS)
    made.commit("The plant")
    for branch, before, tag in (("hall", "panelboard DP2", "DP3"), ("yard", "expect demand", "DP4")):
        made.run("git", "switch", "-q", "-c", branch, "main")
        made.write(PLANT.replace(before, board(tag) + before))
        made.run("fedfrom", "fmt", "plant.fed")
        made.build(DRAWN if branch == "hall" else RESULTS)  # one drawing is enough to see it regenerate
        made.commit(f"{tag} added")
    made.run("git", "switch", "-q", "-c", "merged", "hall")
    return made


def test_two_branches_that_each_add_a_feeder_come_together(repository: Repository) -> None:
    repository.merge()
    assert "<<<<" not in repository.text
    assert [tag for tag in ("DP1", "DP2", "DP3", "DP4") if f"panelboard {tag} " in repository.text] == [
        "DP1", "DP2", "DP3", "DP4",
    ]  # fmt: skip
    # the documents are those of one branch, which the check finds, with the reason
    stale = repository.run("fedfrom", "build", "plant.fed", "-o", "issued/plant", "--check", *DRAWN.split(), expect=1)
    assert re.search(r"^stale: issued/plant/one-line-1\.svg: plant\.fed changed since", stale, re.MULTILINE)
    assert ">DP4<" not in repository.drawing()
    repository.build(DRAWN)
    repository.run("fedfrom", "build", "plant.fed", "-o", "issued/plant", "--check", *RESULTS.split())
    assert [tag for tag in ("DP1", "DP2", "DP3", "DP4") if f">{tag}<" in repository.drawing()] == [
        "DP1", "DP2", "DP3", "DP4",
    ]  # fmt: skip
    repository.run("fedfrom", "fmt", "--check", "plant.fed")
    repository.commit("Documents of both")


def test_the_review_of_a_merge_names_both_feeders_and_no_other_tag_changes(repository: Repository) -> None:
    repository.merge()
    found = json.loads(repository.run("fedfrom", "diff", "main..merged", "plant.fed", "--format", "json", expect=1))
    assert found["renames"] == []
    assert {each["what"] for each in found["changes"] if each["area"] in ("Added", "Taken out")} == {"DP3", "DP4"}
    demand = next(each for each in found["changes"] if each["key"] == "load/MSB")
    assert demand["edits"] == [1, 2]
    assert [edit["text"] for edit in found["edits"]] == [
        'panelboard DP3 "Line DP3" added',
        'panelboard DP4 "Line DP4" added',
    ]


def test_a_branch_is_compared_with_where_it_was_left_and_with_the_disk(repository: Repository) -> None:
    repository.run("git", "switch", "-q", "yard")
    text = repository.run("fedfrom", "diff", "hall...yard", "plant.fed", "--no-sheets", expect=1)
    assert "DP4" in text
    assert "DP3" not in text
    before = repository.text
    repository.write(before.replace("24 kW", "36 kW"))
    text = repository.run("fedfrom", "diff", "HEAD", "plant.fed", "--no-sheets", expect=1)
    assert re.search(r"1  DP1 \"Tunnel\": 24 kW -> 36 kW  \(plant\.fed:\d+\)", text)
    status = repository.run("git", "status", "--short")
    assert status == " M plant.fed\n"  # nothing else was touched
    repository.write(before)
    assert "nothing differs" in repository.run("fedfrom", "diff", "HEAD", "plant.fed", "--no-sheets")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("no-such-branch", "plant.fed"), "there is no file, folder or revision `no-such-branch`"),
        (("main..no-such-branch", "plant.fed"), "there is no file, folder or revision `no-such-branch`"),
        (("main", "other.fed"), "there is no `other.fed` in revision `main`"),
        (("gone.fed", "plant.fed"), "there is no file or folder `gone.fed`"),
        (("plant.fed",), "name two files or folders, or a revision and a path"),
        (("main", "../plant.fed"), "is in no git repository"),
    ],
)
def test_trouble_is_said_and_gives_2(repository: Repository, arguments: tuple[str, ...], message: str) -> None:
    said = repository.run("fedfrom", "diff", *arguments, expect=2)
    assert message in said
    assert "Traceback" not in said


def test_a_side_that_cannot_be_read_gives_2_and_its_errors(repository: Repository) -> None:
    (repository.folder / "broken.fed").write_text(PLANT.replace("120 ft", "120 furlongs"), encoding="utf-8")
    said = repository.run("fedfrom", "diff", "plant.fed", "broken.fed", expect=2)
    assert "broken.fed cannot be compared" in said
    (repository.folder / "broken.fed").unlink()


def test_the_shell_recipe(repository: Repository) -> None:
    repository.run("git", "switch", "-q", "yard")
    (repository.folder / ".git" / "ci.sh").write_bytes((RECIPES / "ci.sh").read_bytes())
    settings = {"PROJECTS": "plant.fed", "OUTPUTS": RESULTS}
    repository.run("sh", ".git/ci.sh", "main", **settings)
    assert "**DP4** added" in (repository.folder / "review.md").read_text(encoding="utf-8")
    suites = ElementTree.parse(repository.folder / "expectations.xml").getroot()
    assert (suites.get("tests"), suites.get("failures")) == ("1", "0")
    before = repository.text
    repository.write(before.replace("<= 200 A", "<= 20 A"))
    said = repository.run("sh", ".git/ci.sh", expect=1, **settings)
    assert "expected demand at MSB <= 20 A" in said
    assert "results.json: plant.fed changed since" in said
    assert ElementTree.parse(repository.folder / "expectations.xml").getroot().get("failures") == "1"
    repository.write(before)
    for name in ("review.md", "expectations.xml"):
        (repository.folder / name).unlink()


def test_the_workflow_for_a_hosted_service(repository: Repository, tmp_path: Path) -> None:
    """Every `run` step as the service would run it, with `pip` and its comment command replaced."""
    repository.run("git", "switch", "-q", "yard")
    repository.run("git", "update-ref", "refs/remotes/origin/main", "main")
    workflow = yaml.safe_load((RECIPES / "workflow.yml").read_text(encoding="utf-8"))
    for name in ("pip", "gh"):
        (tmp_path / name).write_text(f'#!/bin/sh\necho {name} "$@" >> "{tmp_path}/calls"\n', encoding="utf-8")
        (tmp_path / name).chmod(0o755)
    context = {
        "vars.FEDFROM": "fedfrom.whl",
        "github.token": "t",
        "github.base_ref": "main",
        "github.event.number": "7",
    }

    def resolved(text: object) -> str:
        return re.sub(r"\$\{\{ ([\w.]+) \}\}", lambda match: context[match.group(1)], str(text))

    steps = workflow["jobs"]["design"]["steps"]
    assert [step["name"] for step in steps if "run" in step] == [
        "Install", "Layout", "Findings, beside the text", "Expectations", "Documents are up to date",
        "What the change does, as a comment",
    ]  # fmt: skip
    settings = {name: resolved(value) for name, value in workflow["env"].items()}
    settings |= {"OUTPUTS": RESULTS, "PATH": f"{tmp_path}{os.pathsep}{repository.path}"}
    for step in steps:
        if "run" in step:
            own = {name: resolved(value) for name, value in step.get("env", {}).items()}
            repository.run("bash", "-e", "-c", step["run"], **settings, **own)
    calls = (tmp_path / "calls").read_text(encoding="utf-8").splitlines()
    assert calls == [
        "pip install fedfrom.whl",
        "gh pr comment 7 --edit-last --create-if-none --body-file review.md",
    ]
    assert "**DP4** added" in (repository.folder / "review.md").read_text(encoding="utf-8")
    for name in ("review.md", "expectations.xml"):
        (repository.folder / name).unlink()


def test_the_hooks_before_a_commit(repository: Repository) -> None:
    hooks = {hook["id"]: hook for hook in yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))}
    named = yaml.safe_load((RECIPES / "pre-commit-config.yaml").read_text(encoding="utf-8"))["repos"][0]["hooks"]
    assert [hook["id"] for hook in named] == list(hooks)
    before = repository.text
    repository.write(before.replace("fed from    MSB, 120 ft", "fed from MSB, 120 ft"))
    assert "1 laid out" in repository.run(*hooks["fedfrom-fmt"]["entry"].split(), "plant.fed")
    assert repository.text == before
    repository.run(*hooks["fedfrom-check"]["entry"].split(), "plant.fed")
    repository.write(before.replace("<= 200 A", "<= 20 A"))
    repository.run(*hooks["fedfrom-check"]["entry"].split(), "plant.fed", expect=1)
    repository.write(before)
