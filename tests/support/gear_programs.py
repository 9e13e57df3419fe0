"""Programs about gear and rooms at invented places, for tests of line-ups, plans, labels and comparison sheets."""

from __future__ import annotations

# Two boards with a tie, rear access, drawn-out mains, a long line of feeders, a motor control center, a room that is
# tight, and names that are long: what a drawing has to survive.
UGLY = """fedfrom 1
project "Works of the united brass and pattern founders, north yard" { code NEC 2023 }
utility UT-1 {
    voltage 480Y/277 V
    fault   42 kA at service point, X/R 8
}
utility UT-2 {
    voltage 480Y/277 V
    fault   42 kA at service point, X/R 8
}
room E001 "Main electrical room below the casting hall" {
    level  0, size 46 ft x 30 ft, height 12 ft
    facing concrete
    door   4 ft, west wall, swings out, panic hardware
    door   4 ft, east wall, swings out, panic hardware
}
room E002 "Closet" {
    level  1, size 7 ft x 5 ft, height 7 ft
    facing concrete
    door   3 ft, swings in
}
room E003 "Store" { level 1, size 30 ft x 20 ft, height 10 ft }
switchboard MSB-A "Main switchboard, bus A, foundry and finishing" {
    fed from  UT-1, 60 ft
    main      breaker 3000 A, LSIG, drawout, arc reduction maintenance switch
    access    front and rear
    entry     top
    place     E001
    surge device 200 kA
    spare     1600 A 3-pole x 1
    spare     400 A 3-pole x 4
    spare     100 A 3-pole x 9
    space     225 A 3-pole x 3
}
switchboard MSB-B "Main switchboard, bus B" {
    fed from  UT-2, 60 ft
    main      breaker 3000 A, LSIG, drawout, arc reduction maintenance switch
    access    front and rear
    entry     top
    place     E001
    spare     800 A 3-pole x 4
}
tie TIE between MSB-A and MSB-B, breaker 3000 A, LSI, drawout, normally open
interlock key, at most 2 of MSB-A.main, MSB-B.main, TIE
motor control center MCC-1 "Sand plant, cooling water and dust collection" {
    fed from  MSB-A, 80 ft, breaker 600 A
    place     E001
    motor M-1 "Fan, dust collector number one with a very long name" 100 hp, 60 ft
    motor M-2 "Pump" 40 hp, drive, 60 ft
    motor M-3 "Pump" 5 hp, soft starter, 60 ft
    motor M-4 "Mixer" 15 hp, 60 ft
    equipment "Welding outlets" 60 A, 480 V 3-phase, 40 ft
}
transformer TX-1 "Offices" {
    fed from  MSB-B, 30 ft
    rating    300 kVA
    secondary 208Y/120 V
    place     E001, south wall
    electrode building steel, 20 ft
}
panelboard LP-1 "Offices, two interiors" {
    fed from  TX-1, 10 ft
    main      breaker 800 A
    sections  2
    place     E001, south wall
    spare     20 A 1-pole x 80
}
panelboard LP-2 "Closet panel" {
    fed from  LP-1 feed-through lugs, 40 ft
    main      lugs
    place     E002, north wall
    receptacles "Desks" 20 outlets, 50 ft
}
panelboard LP-3 "Facing it" {
    fed from  LP-1, 40 ft, breaker 100 A
    main      lugs
    place     E002, south wall
    receptacles "Desks" 20 outlets, 50 ft
}
panelboard LP-4 "In the store" {
    fed from  LP-1, 40 ft, breaker 100 A
    main      lugs
    place     E003
    receptacles "Desks" 20 outlets, 50 ft
}
"""


def crowded(size: str) -> str:
    """A room of a size with a board off its wall and fourteen panels on all walls and in the middle."""
    text = f"""fedfrom 1
project "Crowd" {{ code NEC 2023 }}
utility UT {{ voltage 480Y/277 V
 fault 30 kA at service point, X/R 5 }}
room E1 "Room with a long name that goes on" {{ level 1, size {size}, height 10 ft
 facing live
 door 3 ft, swings in
 door 4 ft, north wall, swings out
 door 3 ft, center }}
switchboard B {{ fed from UT, 20 ft
 main breaker 1600 A, LSIG, arc reduction maintenance switch
 place E1
 access front and rear }}
"""
    walls = ("north wall", "east wall", "south wall", "west wall", "center")
    for number in range(14):
        wall = "" if number % 3 == 0 else f", {walls[number % 5]}"
        status = ("", "existing ", "future ", "")[number % 4]
        text += (
            f'{status}panelboard LONG-TAG-{number} "P{number}" {{ fed from B, 30 ft, breaker 100 A\n'
            f" main lugs\n place E1{wall}\n}}\n"
        )
    return text
