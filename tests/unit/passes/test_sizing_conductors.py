"""Properties of the choice of conductors."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fedfrom.model.items import Conductors, Model, Project, Value
from fedfrom.model.items import Defaults as ProjectDefaults
from fedfrom.passes.sizing_conductors import ConductorRequest, DropLimit, ampacity_fault, choose_phase, drop_of
from fedfrom.passes.sizing_sets import size_conductors
from fedfrom.passes.sizing_settings import wire_settings
from fedfrom.tables import load_edition, lookup

EDITION = load_edition("NEC 2023")
MODEL = Model(Project(), ProjectDefaults(), {})


def request(load_a: float, device_a: float | None = None, length_ft: float = 0.0, **fields: object) -> ConductorRequest:
    drop = (DropLimit(load_a, length_ft, 0.9, 480.0, 3, 2.0),) if length_ft else ()
    values: dict[str, object] = {
        "written": Conductors(),
        "settings": wire_settings(MODEL, EDITION, Conductors()),
        "ungrounded": 3,
        "phases": 3,
        "wye": True,
        "has_neutral": True,
        "terminal_a": load_a,
        "carried_a": load_a,
        "device_a": device_a,
        "drop": drop,
        **fields,
    }
    return ConductorRequest(**values)  # type: ignore[arg-type]


@settings(max_examples=60, deadline=None)
@given(st.floats(1, 4000), st.floats(1, 4000))
def test_more_load_never_gives_less_copper(one: float, other: float) -> None:
    low, high = sorted((one, other))
    small, large = choose_phase(EDITION, request(low)), choose_phase(EDITION, request(high))
    assert small is not None
    assert large is not None
    assert small.option.usable_a <= large.option.usable_a + 1e-6
    assert small.option.sets <= large.option.sets


@settings(max_examples=60, deadline=None)
@given(st.floats(5, 600), st.floats(10, 2000))
def test_what_is_chosen_satisfies_every_rule(load_a: float, length_ft: float) -> None:
    asked = request(load_a, None, length_ft)
    choice = choose_phase(EDITION, asked)
    assert choice is not None
    assert ampacity_fault(EDITION, asked, choice.option) == ""
    drop = drop_of(EDITION, asked, choice.option)
    assert drop is not None
    # Within the limit, or nothing with enough ampacity would be either (then it stays at the ampacity's size).
    assert drop <= 2.0 + 1e-9 or not choice.enlarged_for_drop


@settings(max_examples=40, deadline=None)
@given(st.floats(20, 300), st.floats(50, 1500))
def test_longer_never_gives_a_smaller_conductor(load_a: float, length_ft: float) -> None:
    near, far = (
        choose_phase(EDITION, request(load_a, None, length_ft)),
        choose_phase(EDITION, request(load_a, None, 3.0)),
    )
    assert near is not None
    assert far is not None
    assert near.option.area_kcmil * near.option.sets >= far.option.area_kcmil * far.option.sets


def test_hotter_than_the_insulation_allows_gives_none() -> None:
    model = Model(Project(), ProjectDefaults(ambient_c=Value(95.0)), {})
    asked = request(20.0, settings=wire_settings(model, EDITION, Conductors()))
    assert choose_phase(EDITION, asked) is None
    assert size_conductors(EDITION, asked) is None


def test_parallel_sets_only_from_one_aught() -> None:
    for amperes in (450.0, 700.0, 1500.0, 3900.0):
        sized = size_conductors(EDITION, request(amperes))
        assert sized is not None
        assert sized.result.sets > 1
        assert (lookup.area_kcmil(EDITION, sized.result.phase) or 0) >= 105.6
        assert sized.result.ampacity_a >= amperes


def test_sixty_degree_insulation_limits_the_column() -> None:
    conductors = Conductors()
    cold = wire_settings(MODEL, EDITION, conductors)
    from dataclasses import replace

    asked = request(30.0, settings=replace(cold, insulation=Value("TW")), ungrounded=2, phases=1)
    choice = choose_phase(EDITION, asked)
    assert choice is not None
    assert choice.terminal_c == 60
    assert choice.option.size == "10"  # NEC Table 310.16, 60 C: 30 A
