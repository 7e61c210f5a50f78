"""Which edges count, which channel is the mix bus, and which rings are loops."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.routing import Routing
from mixlint.routing.wiring import wire
from mixlint.session import Automation, Channel, Session, Unknown
from tests.routing.desks import bus, mix, send, session, track


def edges_of(wiring):
    return [(e.source, e.to, e.kind) for e in wiring.edges]


def test_sends_that_are_off_down_or_lost_are_no_edges():
    wiring = wire(
        session(
            track(
                "Vox",
                sends=(send("Plate", on=False), send("Plate", -200.0), send("Gone"), send("Plate", -6.0)),
            ),
            bus("Plate", kind="return"),
            mix(),
        )
    )
    assert edges_of(wiring) == [("Vox", "Mix", "output"), ("Vox", "Plate", "send"), ("Plate", "Mix", "output")]
    assert [loose.why for loose in wiring.loose] == ["off", "fully down", "no such channel"]


def test_an_automated_send_counts_though_it_stands_fully_down():
    throw = Automation(target="send:0:level", scale="dB", t=(0.0, 10.0), v=(-200.0, -6.0))
    wiring = wire(session(track("Vox", sends=(send("Echo", -200.0),), automation=(throw,)), bus("Echo"), mix()))
    assert ("Vox", "Echo", "send") in edges_of(wiring)


def test_a_vca_carries_no_audio():
    wiring = wire(session(track("Vox"), Channel(id="V", name="V", kind="vca", output="Mix"), mix()))
    assert edges_of(wiring) == [("Vox", "Mix", "output")]


def test_of_two_masters_the_one_that_more_channels_feed_is_the_mix_bus():
    wiring = wire(
        session(Channel(id="Cue Out", name="Cue Out", kind="master", output=None), track("Vox"), track("Gtr"), mix())
    )
    assert wiring.mix_bus == "Mix"


def test_without_a_master_the_mix_bus_is_unknown():
    routing = Routing(session(track("Vox", output=None)))
    assert isinstance(routing.wiring.mix_bus, Unknown)
    assert routing.wiring.reaching == frozenset()


def test_two_returns_that_send_to_each_other_are_a_loop_cut_at_its_weakest_edge():
    routing = Routing(
        session(
            bus("Plate", kind="return", sends=(send("Echo", -6.0),)),
            bus("Echo", kind="return", fader_db=-2.0, sends=(send("Plate", -18.0),)),
            mix(),
        )
    )
    (loop,) = routing.loops
    assert loop.channels == ("Plate", "Echo")
    assert (loop.cut.source, loop.cut.to) == ("Echo", "Plate")
    assert loop.gain_db == pytest.approx(-6.0 - 18.0 - 2.0)
    assert ("Echo", "Plate") not in [(e.source, e.to) for e in routing.edges]


def test_a_muted_channel_opens_the_ring():
    routing = Routing(
        session(
            bus("Plate", kind="return", mute=True, sends=(send("Echo"),)),
            bus("Echo", kind="return", sends=(send("Plate"),)),
            mix(),
        )
    )
    assert routing.loops == ()


def test_a_channel_that_sends_to_itself_is_a_loop():
    routing = Routing(session(bus("Plate", kind="return", sends=(send("Plate", -12.0),)), mix()))
    assert routing.loops[0].channels == ("Plate",)


@pytest.mark.slow
@given(st.integers(2, 9), st.data())
def test_loops_agree_with_networkx(size, data):
    """Loops are found exactly where ``networkx`` finds a cycle, each one is a simple cycle of the graph, and what is
    left once the cuts are made is acyclic."""
    pairs = data.draw(st.lists(st.tuples(st.integers(0, size - 1), st.integers(0, size - 1)), max_size=24))
    channels = tuple(
        bus(f"c{k}", sends=tuple(send(f"c{b}", float(-k - b)) for a, b in pairs if a == k)) for k in range(size)
    )
    routing = Routing(Session(channels=(*channels, mix())))
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(c.id for c in channels)
    graph.add_edges_from((f"c{a}", f"c{b}") for a, b in pairs)
    assert bool(routing.loops) == (not nx.is_directed_acyclic_graph(graph))
    rest = nx.MultiDiGraph([(e.source, e.to) for e in routing.edges])
    assert nx.is_directed_acyclic_graph(rest)
    for loop in routing.loops:
        assert len(set(loop.channels)) == len(loop.channels)
        ring = [*loop.channels, loop.channels[0]]
        assert all(graph.has_edge(a, b) for a, b in zip(ring, ring[1:], strict=False))
