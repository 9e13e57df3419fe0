"""`plan_states`: the operating states that ratings, loads and drops are checked in."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Network, State, StatePlan
from fedfrom.graph.switching import Supplied, Switching, sources_above, supply, tie_is_closed, transfer_feeds
from fedfrom.graph.walk import far_end, incoming_edges
from fedfrom.model.items import Interlock, Model, StateLine

MOST_STATES = 64


def plan_states(model: Model, network: Network) -> tuple[StatePlan, tuple[Finding, ...]]:
    """Normal; each source lost; each tie closed with one main open; bypasses, alternates, closed transitions; named.

    Derived states that supply every node over the same path are one. The text's own states are always kept.
    """
    findings: list[Finding] = []
    states = [_state("Normal", network, Switching())]
    for line in model.states:
        wish = Switching(frozenset(line.lost), frozenset(line.opened), frozenset(line.closed))
        states.append(_state(line.name, network, wish, derived=False))
        findings.extend(_interlock_findings(model, network, wish, line))
    findings.extend(_parallel_findings(model, network, states[0]))
    seen = {_paths(state) for state in states}
    derived = 0
    for name, wish in _derived(model, network):
        state = _state(name, network, wish)
        if _paths(state) in seen:
            continue
        seen.add(_paths(state))
        derived += 1
        if len(states) < MOST_STATES:
            states.append(state)
    if derived + 1 + len(model.states) > MOST_STATES:
        findings.append(_too_many(network, derived + 1))
    return StatePlan(_source_order(states)), tuple(findings)


def _source_order(states: list[State]) -> tuple[State, ...]:
    """Normal, the derived states, then those that the text names."""
    return (
        states[0],
        *(state for state in states[1:] if state.derived),
        *(state for state in states[1:] if not state.derived),
    )


def _state(name: str, network: Network, wish: Switching, derived: bool = True) -> State:
    outcome = supply(network, wish)
    alive = set(outcome.order)
    dead = tuple(tag for tag in network.nodes if tag not in alive)
    return State(
        name=name,
        lost=_in_order(network, wish.lost),
        opened=tuple(sorted(wish.opened)),
        closed=tuple(sorted(wish.closed)),
        parent=_parents(network, outcome),
        order=outcome.order,
        dead=dead,
        derived=derived,
        parallel=outcome.parallel,
    )


def _parents(network: Network, outcome: Supplied) -> dict[str, str]:
    return {tag: outcome.parent[tag] for tag in network.nodes if tag in outcome.parent}


def _in_order(network: Network, tags: Iterable[str]) -> tuple[str, ...]:
    wanted = set(tags)
    return tuple(tag for tag in network.nodes if tag in wanted)


def _paths(state: State) -> tuple[object, ...]:
    """What makes two states one: every node is supplied over the same path."""
    return tuple(state.parent.items()), tuple(state.parallel.items())


# --- the derived list ----------------------------------------------------------------------------------------------


def _derived(model: Model, network: Network) -> list[tuple[str, Switching]]:
    lost = [
        (f"{tag} lost", Switching(lost=frozenset({tag})))
        for tag, node in network.nodes.items()
        if node.role == "source"
    ]
    return [
        *lost,
        *_next_source(network, lost),
        *_tie_closed(model, network),
        *_ties_closed_after_loss(model, network, lost),
        *_by_hand(network),
        *_closed_transitions(network),
    ]


def _next_source(network: Network, lost: list[tuple[str, Switching]]) -> list[tuple[str, Switching]]:
    """Two sources lost, where a third then takes over that runs in no state of one loss: a portable set behind one."""
    running = [_delivering(network, wish) for _, wish in lost]
    once = frozenset().union(_delivering(network, Switching()), *running)
    if all(tag in once for tag, node in network.nodes.items() if node.role == "source"):
        return []
    found = []
    for (first, second), (one, other) in zip(combinations(lost, 2), combinations(running, 2), strict=True):
        wish = Switching(lost=first[1].lost | second[1].lost)
        took_over = second[1].lost <= one or first[1].lost <= other
        if took_over and _delivering(network, wish) - once:
            found.append((" and ".join((*sorted(first[1].lost), *sorted(second[1].lost))) + " lost", wish))
    return found


def _delivering(network: Network, wish: Switching) -> frozenset[str]:
    """The sources that feed something."""
    outcome = supply(network, wish)
    feeding = {far_end(network.edges[edge_id], tag) for tag, edge_id in outcome.parent.items()}
    return frozenset(tag for tag in feeding if network.nodes[tag].role == "source")


def _ties_closed_after_loss(
    model: Model, network: Network, lost: list[tuple[str, Switching]]
) -> list[tuple[str, Switching]]:
    """Each source lost, and the ties closed that the interlocks then permit: often the same as a tie state."""
    found = []
    for name, wish in lost:
        opened, closed = _ties_that_help(model, network, wish)
        if closed:
            found.append((f"{name}, {', '.join(sorted(closed))} closed", Switching(wish.lost, opened, closed)))
    return found


def _ties_that_help(model: Model, network: Network, wish: Switching) -> tuple[frozenset[str], frozenset[str]]:
    """(mains opened, ties closed): a tie with one dead end closes after the dead end's main has opened."""
    alive = set(supply(network, wish).order)
    opened, closed = wish.opened, wish.closed
    for edge in network.edges.values():
        if edge.tie is None or tie_is_closed(edge, wish):
            continue
        dead = [end for end in edge.tie.ends if end not in alive]
        if len(dead) != 1:
            continue
        main = f"{dead[0]}.main"
        trial = Switching(wish.lost, opened | {main}, closed | {edge.id})
        if not _broken_interlocks(model, network, trial):
            opened, closed = trial.opened, trial.closed
    return opened, closed


def _tie_closed(model: Model, network: Network) -> list[tuple[str, Switching]]:
    """Each tie closed with the main of one of its ends open."""
    found = []
    for edge in network.edges.values():
        if edge.tie is None:
            continue
        for end in edge.tie.ends:
            wish = Switching(opened=frozenset({f"{end}.main"}), closed=frozenset({edge.id}))
            if not _broken_interlocks(model, network, wish):
                found.append((f"Tie {edge.id} closed, {end} main open", wish))
    return found


def _by_hand(network: Network) -> list[tuple[str, Switching]]:
    """Each bypass, and each alternate, with all sources present."""
    words = {"bypass from": "on bypass", "alternate from": "on alternate feed"}
    found = []
    for tag in network.nodes:
        for edge in incoming_edges(network, tag):
            verb = edge.feed.verb if edge.feed else ""
            if verb in words:
                found.append((f"{tag} {words[verb]}", Switching(preferred=((tag, edge.id),))))
    return found


def _closed_transitions(network: Network) -> list[tuple[str, Switching]]:
    """Each transfer switch with closed transition while it stands on both supplies; not where both have one source."""
    found = []
    for tag, node in network.nodes.items():
        transition = node.item.facts.first("transition")
        if transition is None or "closed" not in transition.values.values():
            continue
        above = [sources_above(network, edge.source) for edge in transfer_feeds(network, tag)]
        if len(above) > 1 and all(above) and not set.intersection(*above):
            found.append((f"{tag} in closed transition", Switching(both=frozenset({tag}))))
    return found


# --- what must not be ----------------------------------------------------------------------------------------------


def _closed_members(network: Network, interlock: Interlock, wish: Switching) -> list[str]:
    closed = []
    for member in interlock.members:
        edge = network.edges.get(member)
        if edge is not None and edge.tie is not None:
            is_closed = tie_is_closed(edge, wish)
        else:
            is_closed = member not in wish.opened
        if is_closed:
            closed.append(member)
    return closed


def _broken_interlocks(model: Model, network: Network, wish: Switching) -> list[tuple[Interlock, list[str]]]:
    found = []
    for interlock in model.interlocks:
        closed = _closed_members(network, interlock, wish)
        if len(closed) > interlock.at_most:
            found.append((interlock, closed))
    return found


def _interlock_findings(model: Model, network: Network, wish: Switching, line: StateLine) -> list[Finding]:
    return [
        Finding(
            rule="radial-states",
            severity=Severity.ERROR,
            subject=line.name,
            message=f'state "{line.name}" has {", ".join(closed)} closed; the interlock lets at most '
            f"{interlock.at_most} of them be",
            span=line.span,
            help="open one of them in this state, or change the interlock",
        )
        for interlock, closed in _broken_interlocks(model, network, wish)
    ]


def _parallel_findings(model: Model, network: Network, normal: State) -> list[Finding]:
    """Sources in parallel that nobody asked for, and ties that nothing keeps from putting them in parallel."""
    findings = []
    for edge in network.edges.values():
        if edge.tie is None:
            continue
        ends = edge.tie.ends
        asked_for = all(network.nodes[end].item.paralleling for end in ends)
        if edge.id in normal.parallel.get(ends[0], ()) and not asked_for:
            findings.append(
                Finding(
                    rule="radial-states",
                    severity=Severity.ERROR,
                    subject=edge.id,
                    message=f"with tie {edge.id} closed, {ends[0]} and {ends[1]} run in parallel in the normal state",
                    span=edge.tie.span,
                    help="write `normally open` on the tie, or `paralleling` in both if they are meant to",
                )
            )
        elif not asked_for and not any(edge.id in interlock.members for interlock in model.interlocks):
            findings.append(
                Finding(
                    rule="radial-states",
                    severity=Severity.WARNING,
                    subject=edge.id,
                    message=f"no interlock keeps tie {edge.id} from putting the sources of {ends[0]} and {ends[1]} "
                    "in parallel",
                    span=edge.tie.span,
                    help=f"add `interlock key, at most 2 of {ends[0]}.main, {ends[1]}.main, {edge.id}`",
                    clause="common practice, no source",
                )
            )
    return findings


def _too_many(network: Network, count: int) -> Finding:
    first = next(iter(network.nodes.values()))
    return Finding(
        rule="too-many-states",
        severity=Severity.ERROR,
        subject="states",
        message=f"{count} operating states follow from the sources, ties and bypasses; {MOST_STATES} are computed",
        span=first.item.tag_span,
        help="name the states that matter with `state` lines; those are always computed",
        clause="common practice, no source",
    )
