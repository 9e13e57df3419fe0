"""Hard topologies as programs of the language, each as short as it can be."""

from __future__ import annotations

HEAD = 'project "{title}" {{ number "T-1", drawn by "Drafting", revision "A" 2026-05-31 "Issued for review" }}\n'
UTILITY = """
utility {tag} {{
    voltage 480Y/277 V
    fault   38 kA
}}
"""
PANEL = """
panelboard {tag} "{title}" {{
    fed from {source}, {length} ft
    place    indoor "{place}"
    receptacles "Outlets" 9 kVA, 120 V x 2, 60 ft
}}
"""
BOARD = """
switchboard {tag} "{title}" {{
    fed from {source}, {length} ft
    place    indoor "{place}"
    main     breaker 800 A
    motor "Fan" 20 hp, 50 ft
}}
"""
GENERATOR = """
generator {tag} "Standby" {{
    rating       500 kW
    voltage      480Y/277 V
    subtransient 12 %
    bond         none
}}
"""
SWITCH = """
transfer switch {tag} "{title}" {{
    normal from    {normal}, 40 ft
    emergency from {emergency}, 60 ft
    rating         400 A
}}
"""


def head(title: str, *utilities: str) -> str:
    return HEAD.format(title=title) + "".join(UTILITY.format(tag=tag) for tag in utilities or ("UT",))


def board(tag: str, source: str, title: str = "Distribution", length: int = 60, place: str = "Level 1 closet") -> str:
    return BOARD.format(tag=tag, source=source, title=title, length=length, place=place)


def panel(tag: str, source: str, title: str = "Panel", length: int = 60, place: str = "Level 2 closet") -> str:
    text = PANEL.format(tag=tag, source=source, title=title, length=length, place=place)
    return text.replace("120 V x 2", "277 V x 2")


def radial() -> str:
    parts = [head("Radial"), board("MSB", "UT", "Main", 30)]
    for number in range(1, 4):
        parts += [board(f"DP{number}", "MSB", f"Level {number}", 80 * number, f"Level {number} closet")]
        parts += [panel(f"LP{number}{letter}", f"DP{number}", f"Level {number} {letter}") for letter in "AB"]
    return "".join(parts)


def several_sources() -> str:
    parts = [head("Several sources", "UT-1", "UT-2"), board("MSB-1", "UT-1"), board("MSB-2", "UT-2")]
    parts += [GENERATOR.format(tag="G1"), SWITCH.format(tag="ATS1", title="Standby", normal="MSB-1", emergency="G1")]
    return "".join([*parts, board("EDP", "ATS1"), panel("LP1", "MSB-2"), panel("LP2", "EDP")])


def double_ended() -> str:
    parts = [head("Double ended", "UT-1", "UT-2"), board("MSB-A", "UT-1"), board("MSB-B", "UT-2")]
    parts += [panel("LPA", "MSB-A"), panel("LPB", "MSB-B")]
    parts += ["\ntie TIE between MSB-A and MSB-B, breaker 800 A, LSI, normally open\n"]
    return "".join([*parts, "\ninterlock key, at most 2 of MSB-A.main, MSB-B.main, TIE\n"])


def generator_board() -> str:
    parts = [head("Generator board"), board("MSB", "UT"), GENERATOR.format(tag="G1"), board("EGB", "G1")]
    for name in ("EM", "LR", "OS"):
        parts += [SWITCH.format(tag=f"ATS-{name}", title=name, normal="MSB", emergency="EGB")]
        parts += [board(f"DP-{name}", f"ATS-{name}"), panel(f"LP-{name}", f"DP-{name}")]
    return "".join(parts)


def forty_feeders() -> str:
    parts = [head("Forty feeders"), board("MSB", "UT").replace("800 A", "4000 A")]
    return "".join(parts + [panel(f"LP-{number}", "MSB", f"Bay {number}") for number in range(1, 41)])


def lone_panel() -> str:
    return (
        HEAD.format(title="Lone panel")
        + 'panelboard LP "Shed" {\n    voltage 208Y/120 V\n    lighting "Lamps" 1 kVA, 40 ft\n}\n'
    )


def long_tags() -> str:
    long = "LEVEL-12-NORTH-EMERGENCY-MAIN-"
    parts = [head("Long tags"), board(f"{long[:26]}MSB", "UT", "W" * 40)]
    for number in range(1, 4):
        tag = f"{long[:28]}{number:02}"
        parts += [board(tag, f"{long[:26]}MSB", "W" * 40), panel(f"P{long[:27]}{number:02}", tag, "Long title " * 5)]
    return "".join(parts)


def deep() -> str:
    parts, above = [head("Deep")], "UT"
    for level in range(12):
        parts += [
            board(f"B{level}", above, f"Board {level}", place=f"Level {level} closet"),
            panel(f"P{level}", f"B{level}"),
        ]
        above = f"B{level}"
    return "".join(parts)


PROGRAMS = {
    make.__name__: make
    for make in (
        radial, several_sources, double_ended, generator_board, forty_feeders, lone_panel, long_tags, deep,
    )
}  # fmt: skip
