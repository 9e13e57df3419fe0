"""The HTML book in a real browser: nothing is asked of the network, clicks and keys are answered, scripts can be off.

Needs Chromium and the Python package playwright; skipped with the reason where one is missing.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.support.samples import sample_design

from fedfrom.documents.book import OUTPUT

sync_api = pytest.importorskip("playwright.sync_api", reason="needs the package playwright (extra `test`)")
BROWSER = os.environ.get("CHROMIUM") or next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None
)
pytestmark = pytest.mark.skipif(BROWSER is None, reason="needs a Chromium browser on the path, or in CHROMIUM")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("book") / "book.html"
    file.write_bytes(OUTPUT.write(sample_design("clinic"))["book.html"])
    return file


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with sync_api.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def page(chromium: Any, book: Path) -> Iterator[Any]:
    page = chromium.new_page(viewport={"width": 1400, "height": 900})
    page.set_default_timeout(10_000)
    problems: list[str] = []
    page.on("pageerror", lambda error: problems.append(str(error)))
    page.on("console", lambda message: problems.append(message.text) if message.type == "error" else None)
    page.on("request", lambda request: problems.append(request.url) if not local(request.url, book) else None)
    page.goto(book.as_uri())
    yield page
    page.close()
    assert problems == []


def local(url: str, book: Path) -> bool:
    return url == book.as_uri() or url.startswith("data:")


def find(page: Any, tag: str) -> None:
    page.fill("#find", tag)
    page.press("#find", "Enter")


def view_box(page: Any) -> list[float]:
    text = page.locator(".paper.shown svg").get_attribute("viewBox")
    return [float(part) for part in text.split()]


def test_a_tag_is_found_and_its_numbers_stand_beside_the_drawing(page: Any) -> None:
    find(page, "ls1")
    results = sample_design("clinic").results
    panel = page.locator("#panel")
    assert panel.locator("h3").inner_text().startswith("LS1: ")
    assert results.derivations["LS1.bus"].value in panel.inner_text()
    assert page.locator("svg .halo").count() == 1
    assert view_box(page)[2] < 34  # zoomed in from the whole sheet
    page.get_by_role("button", name="available fault current").click()
    copy = panel.locator("article.calc")
    assert "I3 = 1000 E / (1.732 |Z1|)" in copy.inner_text()
    assert "LS1.fault" in copy.inner_text()


def test_a_click_on_the_drawing_selects_what_is_there(page: Any) -> None:
    find(page, "TLS")
    page.focus("#view")
    page.keyboard.press("Escape")
    assert page.locator("#panel h3").count() == 0
    page.locator(".paper.shown [data-id='TLS']").get_by_text("TLS", exact=True).last.click()
    assert page.locator("#panel h3").inner_text().startswith("TLS: ")
    page.locator("#panel").get_by_role("button", name="Feeder to TLS").click()
    assert "Feeder to TLS, from LS1" in page.locator("#panel h3").inner_text()


def test_the_path_to_the_source_in_two_states(page: Any) -> None:
    find(page, "LS1")
    page.click("#trace")
    assert page.locator("#said").inner_text().endswith("LS1 from ATS-LS from MSB from UT")
    assert page.locator("svg .traced").count() > 20
    faded = page.locator("[data-id='NH1'][data-kind='fed'] text").first
    assert float(faded.evaluate("node => getComputedStyle(node).opacity")) < 0.5
    page.select_option("#state", label="UT lost")
    assert page.locator("#said").inner_text().endswith("LS1 from ATS-LS from EGB from G1")
    page.click("#trace")
    dead = page.locator("[data-id='NH1'][data-kind='fed'] text").first
    assert "idle" in dead.get_attribute("class")
    alive = page.locator("[data-id='EGB'] text").first
    assert "idle" not in alive.get_attribute("class")
    assert "State: UT lost" in page.locator("#panel").inner_text()


def test_keys_and_wheel_move_and_zoom(page: Any) -> None:
    home = view_box(page)
    page.focus("#view")
    page.keyboard.press("+")
    closer = view_box(page)
    assert closer[2] < home[2]
    page.keyboard.press("ArrowRight")
    assert view_box(page)[0] > closer[0]
    page.keyboard.press("0")
    assert view_box(page) == home
    page.hover("#view")
    page.mouse.wheel(0, -300)
    page.wait_for_function(
        "home => document.querySelector('.paper.shown svg').viewBox.baseVal.width < home", arg=home[2]
    )
    find(page, "no such thing")
    assert "Nothing is called" in page.locator("#said").inner_text()


def test_a_finding_leads_to_the_drawing_and_a_calculation_opens(page: Any) -> None:
    page.locator(".findings a[data-show='LS1'], .findings a[data-show]").first.click()
    assert page.locator("#panel h3").count() == 1
    find(page, "LS1")
    page.locator("#panel").get_by_text("Calculations", exact=True).click()
    assert page.locator("#calculations-LS1").get_attribute("open") is not None


def test_without_scripts_it_is_a_plain_document_with_the_drawing(chromium: Any, book: Path) -> None:
    context = chromium.new_context(java_script_enabled=False, viewport={"width": 1000, "height": 800})
    page = context.new_page()
    page.goto(book.as_uri())
    sheets = page.locator(".paper svg")
    assert sheets.count() >= 2
    assert all(sheets.nth(index).is_visible() for index in range(sheets.count()))
    assert not page.locator("#panel").is_visible()
    assert page.locator("#rules tbody tr").count() > 100
    context.close()


def test_print_leaves_the_tools_out(page: Any) -> None:
    page.emulate_media(media="print")
    assert not page.locator(".tools").is_visible()
    assert page.locator(".paper svg").first.is_visible()
    assert page.locator(".paper svg").last.is_visible()


def test_the_file_is_whole_and_the_same_each_time(book: Path) -> None:
    text = book.read_text(encoding="utf-8")
    assert OUTPUT.write(sample_design("clinic"))["book.html"].decode() == text
    outside = re.findall(r"""(?:src|href|action)\s*=\s*["'](?!#)([^"']*)""", text)
    assert outside == []
    assert re.findall(r"url\((?!data:)", text) == []
    ids = re.findall(r'\sid="([^"]*)"', text)
    assert len(ids) == len(set(ids))
    anchors = set(re.findall(r'href="#([^"]+)"', text))
    assert anchors <= set(ids)
