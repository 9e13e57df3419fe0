"""Symbols: every one has words for the legend, stands on its wire, and is drawn with plottable weights."""

from __future__ import annotations

import pytest

from fedfrom.drawing.library import SAMPLES
from fedfrom.drawing.scene import Label
from fedfrom.drawing.shapes import bounds, groups, walk
from fedfrom.drawing.style import FRAME_THICK, FRAME_THIN, LAYERS, LINE_PITCH, REFERENCE, TEXT, pen
from fedfrom.drawing.symbols import DEVICES, device_symbol
from fedfrom.drawing.words import words
from fedfrom.model.items import Status

# source: lineweights in hundredths of a millimetre that DXF group code 370 allows (from memory; the audit agrees)
DXF_WEIGHTS = {0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}


def test_legend_words_and_samples_belong_together() -> None:
    assert set(words("legend")) == set(SAMPLES)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_carries_the_symbol_it_explains(name: str) -> None:
    assert name in {group.symbol for group, _ in groups([SAMPLES[name](pen(Status.NEW))])}


@pytest.mark.parametrize("kind", DEVICES)
@pytest.mark.parametrize("options", [(), ("drawout",)])
def test_a_device_fills_its_wire_and_leaves_the_right_side_to_text(kind: str, options: tuple[str, ...]) -> None:
    symbol = device_symbol(kind, options, pen(Status.NEW))
    left, top, right, bottom = bounds(symbol.group)
    assert top == pytest.approx(0.0, abs=0.01)
    assert bottom == pytest.approx(symbol.height, abs=0.01)
    assert left < 0
    assert right <= 0.13


@pytest.mark.parametrize("status", Status)
def test_weights_can_be_plotted_and_layers_are_named(status: Status) -> None:
    strokes = pen(status)
    every = [strokes.wire, strokes.symbol, strokes.box, strokes.bus, strokes.thin, strokes.enclosure]
    for stroke in [*every, FRAME_THICK, FRAME_THIN, REFERENCE]:
        assert round(stroke.weight_mm * 100) in DXF_WEIGHTS
        assert stroke.weight_mm >= 0.3  # source: ASME Y14.2-2008, 2.1, thin lines (public excerpt)
        assert stroke.layer in LAYERS


def test_each_status_looks_different() -> None:
    looks = {(pen(s).wire.dash, pen(s).wire.weight_mm, s is Status.DEMOLISH) for s in Status}
    assert len(looks) == len(Status)


def test_lines_of_text_are_spaced_as_the_standard_asks() -> None:
    # source: ASME Y14.2-2008, 4.5 (public excerpt): space no more than the letter height, no less than half of it
    assert TEXT / 2 <= LINE_PITCH - TEXT <= TEXT


def test_symbols_hold_no_lowercase_letters() -> None:
    for sample in SAMPLES.values():
        for shape, _ in walk([sample(pen(Status.NEW))]):
            assert not isinstance(shape, Label) or shape.text == shape.text.upper()
