"""The page of rules: every rule once, with its clause in the edition asked for."""

from __future__ import annotations

import re

from fedfrom.documents.rules_page import rules_page
from fedfrom.rules.registry import all_rules
from fedfrom.tables import load_edition


def test_every_rule_stands_on_the_page() -> None:
    page = rules_page(load_edition("NEC 2023"))
    assert re.findall(r'<section id="([\w-]+)">', page) == [rule.id for rule in all_rules()]
    assert page.count("<pre>") == 2 * len(all_rules())
    assert "http" not in page


def test_clauses_are_those_of_the_edition() -> None:
    page = rules_page(load_edition("NEC 2017"))
    assert "NEC 2017, 705.12(B)(2)(3)" in page
    assert "NEC 2023" not in re.sub(r"<pre>.*?</pre>", "", page, flags=re.DOTALL)


def test_example_designs_are_escaped() -> None:
    assert "<pre>fedfrom 1\nproject &#34;Example&#34;" in rules_page(load_edition("NEC 2023"))
