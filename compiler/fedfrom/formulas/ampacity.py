"""Ampacity: correction, adjustment, the terminal rule, parallel sets, neutrals that carry current."""

from __future__ import annotations

# NEC 310.10(G)(1): conductors may be paralleled from 1/0 AWG up (105.6 kcmil).
LEAST_PARALLEL_KCMIL = 105.6
# NEC 110.14(C)(1): circuits to 100 A, or terminals marked for 14 to 1 AWG (83.69 kcmil).
SMALL_CIRCUIT_A = 100.0
SMALL_CIRCUIT_KCMIL = 83.69
# NEC 310.12: conductors that carry the whole load of one dwelling unit, 100 to 400 A.
DWELLING_FACTOR = 0.83


def terminal_column(device_a: float | None, listed_c: int) -> int:
    """The ampacity column that the terminals allow, 60, 75 or 90 C (NEC 110.14(C)(1)).

    `listed_c`: what the terminals are listed for. To 100 A the rule's own value is 60 C, above 75 C; equipment that is
    listed and marked higher may use what it is marked for. Gear breakers of today are marked 75 C (common practice), so
    75 is the project default. A device over 100 A with a listing of 60 still has the 75 C column of the rule.
    """
    if device_a is not None and device_a > SMALL_CIRCUIT_A:
        return max(listed_c, 75)
    return listed_c


def corrected_ampacity(table_a: float, ambient_factor: float, adjustment_factor: float) -> float:
    """Ampacity in A of one conductor after correction for ambient and adjustment for number (NEC 310.15(B), (C)).

    `table_a` is from the column of the conductor's own insulation.
    """
    return table_a * ambient_factor * adjustment_factor


def usable_ampacity(corrected_a: float, terminal_a: float, sets: int = 1) -> float:
    """What may be used in A, all sets: the lesser of the corrected ampacity and the terminal's column (110.14(C))."""
    return sets * min(corrected_a, terminal_a)


def current_carrying(ungrounded: int, has_neutral: bool, phases: int, wye: bool, nonlinear: bool) -> int:
    """How many conductors of a set count for adjustment (NEC 310.15(E)).

    The neutral counts with two hots of a wye system (E)(2), with nonlinear load on a wye (E)(3), and in a two-wire
    circuit, where it is the second conductor; it does not where it carries only the unbalance (E)(1).
    """
    if not has_neutral:
        return ungrounded
    if ungrounded == 1:
        return 2
    of_wye = ungrounded == 2 and wye
    return ungrounded + (1 if of_wye or (nonlinear and phases == 3) else 0)


def may_be_paralleled(area_kcmil: float) -> bool:
    """Whether conductors of this area may be joined in parallel (NEC 310.10(G)(1))."""
    return area_kcmil >= LEAST_PARALLEL_KCMIL - 0.01


def dwelling_ampacity(rating_a: float) -> float:
    """Least ampacity in A of conductors that carry the whole load of one dwelling unit (NEC 310.12(A), (B)).

    `rating_a` 100 to 400 A. Raises ValueError outside: the rule does not reach there.
    """
    if not 100 <= rating_a <= 400:
        raise ValueError(f"310.12 covers ratings of 100 to 400 A, not {rating_a:g} A")
    return DWELLING_FACTOR * rating_a
