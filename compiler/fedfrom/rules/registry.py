"""`Rule`, `Design` and the folder scan. A rule is one file here that defines `RULE`; nothing else is edited."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache

import fedfrom.rules
from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Model
from fedfrom.results.types import Results
from fedfrom.source import SourceFile
from fedfrom.tables import Edition

# Modules of this folder that are no rules.
NOT_RULES = frozenset(
    ("acceptance", "consequences", "expectation", "page", "placed_loads", "reach", "registry", "review", "room_facts")
) | {"run", "support"}


@dataclass(frozen=True, slots=True)
class Design:
    """What a rule may look at: the model, the network with its states, the results, and the tables of the edition.

    `files`, by name, let documents give line and column of a place; without them these are not known.
    """

    model: Model
    network: Network
    plan: StatePlan
    results: Results
    edition: Edition
    files: Mapping[str, SourceFile] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Rule:
    """One check. `clause` is a key of the edition's clause table, or "practice", or "" for a rule of the language.

    `bad` and `good` are two whole little programs in the language: they are the rule's example and its test (`bad`
    gives this finding and no other of the same or higher severity, `good` does not give it).
    `check` None: the finding is made elsewhere (reading, expansion, network), and this file documents and tests it.
    `applies`: whether the design has anything of the kind (None: always); without it the rule is *not applicable*.
    `needs`: the fact without which nothing of the check can be made ("" where it is there); then it is *not checked*.
    `files`: by name the tables that the two programs ask for.
    `life_safety`: an acceptance must name a person and a date.
    """

    id: str
    severity: Severity
    title: str
    why: str
    clause: str
    bad: str
    good: str
    check: Callable[[Design], Iterator[Finding]] | None = None
    life_safety: bool = False
    files: Mapping[str, str] = field(default_factory=dict)
    applies: Callable[[Design], bool] | None = None
    needs: Callable[[Design], str] | None = None


class RuleError(Exception):
    """A rule file whose name and id differ, or that has no RULE: a bug, found by the first test."""


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every rule, sorted by id. Raises RuleError for a file that does not keep the convention."""
    rules = []
    for info in pkgutil.iter_modules(fedfrom.rules.__path__):
        if info.name in NOT_RULES:
            continue
        module = importlib.import_module(f"fedfrom.rules.{info.name}")
        rule = getattr(module, "RULE", None)
        if not isinstance(rule, Rule) or rule.id.replace("-", "_") != info.name:
            raise RuleError(f"rules/{info.name}.py must define RULE with id {info.name.replace('_', '-')!r}")
        rules.append(rule)
    return tuple(sorted(rules, key=lambda rule: rule.id))
