"""Whom a bus serves, and what goes past a group or the stems. Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.facts import TABLES, House, SessionContext
from mixlint.naming import families_named
from mixlint.session import Channel, Note, Unknown
from tests.facts.small_sessions import ask, bus, context, mix, reverb, send, track, value


@pytest.mark.parametrize(
    ("name", "families"),
    [
        ("Vocal Plate", {"vocals"}),
        ("Drum Room", {"drums"}),
        ("Kit Squash", {"drums"}),
        ("Bass Drum", {"drums"}),
        ("Drums & Bass", {"drums", "bass"}),
        ("Brass Hall", {"winds"}),
        ("String Stem", {"strings"}),
        ("Acoustics", {"guitars"}),
        ("12 String Gtr", {"guitars"}),
        ("Gitarren Raum", {"guitars"}),
        ("Batterie", {"drums"}),
        ("Music", set()),
        ("All FX", set()),
        ("Hall", set()),
        ("Rhythm", set()),
        ("Lead Delay", set()),
    ],
)
def test_the_families_that_the_name_of_a_bus_speaks_of(name: str, families: set[str]) -> None:
    assert families_named(name) == families


def verdicts(at: SessionContext) -> dict[str, Any]:
    """Row name to whether it fits; None where that is not known."""
    return {r.subject.name: getattr(r.value("fits"), "value", None) for r in TABLES["feed"].rows(at)}


def grouped(group: str, *names: str, house: House | None = None) -> SessionContext:
    return context(*(track(name, output=group) for name in names), bus(group), mix(), house=house)


@pytest.mark.parametrize(
    ("group", "names", "strangers"),
    [
        ("Drums", ("Kick", "Snare", "Bass DI"), {"Bass DI"}),
        ("Drums", ("Kick", "Bass DI"), None),  # half of it
        ("Drums", ("Kick", "Snare", "Tambourine"), set()),
        ("Drums", ("Kick", "Snare", "808"), set()),
        ("Drums", ("Kick", "Snare", "Riser"), set()),
        ("Rhythm", ("Kick", "Snare", "Bass DI"), None),
        ("Drums & Bass", ("Kick", "Snare", "Bass DI"), set()),
        ("Keys", ("Piano", "Violin", "Cello"), None),
        ("Strings", ("Violins", "Celli", "Double Bass"), set()),
        ("Strings", ("Violins", "Celli", "Harp"), set()),
        ("Strings", ("Violins", "Celli", "Violas", "Flute"), {"Flute"}),
        ("Choir", ("Soprano Vox", "Tenor Vox", "Bass"), set()),
        ("Vocals", ("Lead Vox", "Backing Vox", "Bass"), {"Bass"}),
        ("Guitars", ("Electric Gtr L", "Electric Gtr R", "Mandolin"), set()),
    ],
)
def test_who_is_a_stranger_in_a_group(group: str, names: tuple[str, ...], strangers: set[str] | None) -> None:
    found = verdicts(grouped(group, *names))
    expected = {} if strangers is None else {f"{name} → {group}": name not in strangers for name in names}
    assert found == expected


def test_behind_a_group_each_part_counts() -> None:
    kit = [track(name, output="Kit") for name in ("Kick", "Snare", "Toms")]
    at = context(*kit, bus("Kit", output="Drums"), track("Bass DI", output="Drums"), bus("Drums"), mix())
    assert verdicts(at)["Bass DI → Drums"] is False
    assert value(at, "feed", "Bass DI → Drums", "own_count") == 3


def sent(return_name: str, *names: str, output: str = "Mix", others: tuple[Channel, ...] = ()) -> SessionContext:
    plate = bus(return_name, kind="return", output=output, inserts=(reverb(),))
    return context(*(track(name, sends=(send(return_name, -12.0),)) for name in names), plate, *others, mix())


@pytest.mark.parametrize(
    ("name", "names", "strangers"),
    [
        ("Gtr Verb", ("Electric Gtr L", "Electric Gtr R", "Lead Vox"), {"Lead Vox"}),
        ("Vocal Plate", ("Lead Vox", "Snare"), {"Snare"}),
        ("Vocal Plate", ("Lead Vox", "Snare", "Electric Gtr"), None),  # everybody uses it
        ("Hall", ("Lead Vox", "Backing Vox", "Snare"), None),
        ("Drum Room", ("Electric Gtr",), None),  # nobody of its own: the name is an old one
    ],
)
def test_who_is_a_stranger_in_a_return(name: str, names: tuple[str, ...], strangers: set[str] | None) -> None:
    found = verdicts(sent(name, *names))
    assert found == ({} if strangers is None else {f"{one} → {name}": one not in strangers for one in names})


@pytest.mark.parametrize(
    ("plate", "fits"),
    [("Vocal Plate", False), ("Plate", False), ("Gtr Verb", True)],
)
def test_a_return_that_comes_back_into_a_group(plate: str, fits: bool) -> None:
    """By its name, or by what is sent to it."""
    guitars = (track("Electric Gtr L", output="Guitars"), track("Electric Gtr R", output="Guitars"), bus("Guitars"))
    at = sent(plate, "Lead Vox", output="Guitars", others=guitars)
    assert verdicts(at)[f"{plate} → Guitars"] is fits


def test_a_return_of_unread_parts_is_not_known_to_fit() -> None:
    guitars = (track("Electric Gtr L", output="Guitars"), track("Electric Gtr R", output="Guitars"), bus("Guitars"))
    at = sent("Plate", "Gribble", output="Guitars", others=guitars)
    assert verdicts(at)["Plate → Guitars"] is None


def test_a_muted_stranger_and_a_closed_send_are_nobodys_row() -> None:
    at = grouped("Drums", "Kick", "Snare", "Bass DI")
    muted = [c.model_copy(update={"mute": c.name == "Bass DI"}) for c in at.session.channels]
    assert "Bass DI → Drums" not in verdicts(context(*muted))


@pytest.mark.parametrize(
    ("setting", "to", "rows"), [("purpose.most_strangers", 20.0, 0), ("purpose.most_strangers", 40.0, 3)]
)
def test_a_house_says_how_many_strangers_make_a_mixed_group(setting: str, to: float, rows: int) -> None:
    assert len(verdicts(grouped("Drums", "Kick", "Snare", "Bass DI", house=House(settings={setting: to})))) == rows


def test_a_house_says_how_many_strange_sends_make_a_shared_return() -> None:
    at = sent("Vocal Plate", "Lead Vox", "Snare")
    assert len(verdicts(at)) == 2
    assert not verdicts(SessionContext(at.session, House(settings={"purpose.most_strange_sends": 40.0})))


# --- past the group, past the stems


def crushed(output: Any, *more: Channel, group: str = "Drums", to_band: bool = False) -> SessionContext:
    kit = [track(name, output=group, sends=(send("Drum Crush"),)) for name in ("Kick", "Snare")]
    return context(
        *kit,
        bus(group, output="Band" if to_band else "Mix"),
        bus("Band"),
        bus("Drum Crush", output=output),
        *more,
        mix(),
    )


@pytest.mark.parametrize(
    ("output", "to_band", "past"),
    [("Mix", False, "Drums"), ("Drums", False, "none"), ("Band", True, "Drums"), ("Mix", True, "Drums")],
)
def test_a_parallel_bus_is_held_against_the_groups_of_its_sources(output: str, to_band: bool, past: str) -> None:
    assert value(crushed(output, to_band=to_band), "channel", "Drum Crush", "goes_past") == past


def test_a_parallel_bus_fed_by_the_group_is_held_against_what_comes_after() -> None:
    def fed(output: str) -> SessionContext:
        drums = bus("Drums", output="Band", sends=(send("Drum Crush"),))
        return context(track("Kick", output="Drums"), drums, bus("Band"), bus("Drum Crush", output=output), mix())

    assert value(fed("Band"), "channel", "Drum Crush", "goes_past") == "none"
    assert value(fed("Mix"), "channel", "Drum Crush", "goes_past") == "Band"


def test_what_else_comes_back_into_the_group_makes_it_graver() -> None:
    assert value(crushed("Mix"), "channel", "Drum Crush", "goes_past_alone") is False
    assert value(crushed("Mix", group="Drum Stem"), "channel", "Drum Crush", "goes_past_alone") is True
    hat = track("Hat", output="Drums", sends=(send("Drum Room"),))
    room = bus("Drum Room", kind="return", output="Drums", inserts=(reverb(),))
    assert value(crushed("Mix", hat, room), "channel", "Drum Crush", "goes_past_alone") is True


def test_an_unknown_output_leaves_it_open() -> None:
    at = crushed(Unknown(unknown="the export gives no output"))
    channels = [
        c.model_copy(update={"sends": (send("Mix"),)}) if c.id == "Drum Crush" else c for c in at.session.channels
    ]
    assert isinstance(ask(context(*channels), "channel", "Drum Crush", "goes_past"), Unknown)


def test_an_assumed_output_leaves_it_open() -> None:
    at = crushed("Mix")
    note = Note(text="Drum Crush has no output in the file; Mix Bus was assumed.", about="Drum Crush", assumes="output")
    found = ask(context(*at.session.channels, notes=(note,)), "channel", "Drum Crush", "goes_past")
    assert isinstance(found, Unknown)
    assert "assumed" in found.unknown


def stems(*more: Channel, house: House | None = None) -> SessionContext:
    return context(
        track("Violins", output="String Stem"),
        track("Celli", output="Celli Group"),
        bus("Celli Group", output="String Stem"),
        track("Horns", output="Brass Stem"),
        *more,
        bus("String Stem", output="Sum"),
        bus("Brass Stem", output="Sum"),
        bus("Sum"),
        mix(),
        house=house,
    )


@pytest.mark.parametrize(
    ("more", "past"),
    [
        ((track("Flute"),), {"Flute"}),
        ((track("Flute", output="Sum"),), {"Flute"}),
        ((track("Flute", output="Winds"), bus("Winds")), {"Winds"}),
        ((track("Flute", mute=True),), set()),
        ((track("Flute", output="Brass Stem"),), set()),
        ((track("Click"),), set()),
        ((track("Flute"), track("Oboe")), set()),  # two in five: no mix through stems
    ],
)
def test_what_goes_past_the_stems(more: tuple[Channel, ...], past: set[str]) -> None:
    at = stems(*more)
    assert {c.name for c in at.session.channels if value(at, "channel", c.name, "past_stems")} == past


def test_a_house_says_from_when_on_a_session_is_mixed_through_stems() -> None:
    at = stems(track("Flute"), track("Oboe"), house=House(settings={"stems.least_parts": 50.0}))
    assert value(at, "channel", "Oboe", "past_stems") is True
    more = stems(track("Flute"), house=House(settings={"stems.least_stems": 3.0}))
    assert value(more, "channel", "Flute", "past_stems") is False


@pytest.mark.parametrize(
    ("names", "past", "settings"),
    [
        (("Piano", "Clavinet", "Organ"), True, {}),
        (("Piano", "Organ"), False, {}),
        (("Piano", "Organ"), True, {"groups.least_named": 1.0}),
        (("Bass DI", "Bass Amp"), True, {}),
        (("Lead Vox", "Backing Vox", "Harmony Vox"), False, {}),  # a lead beside the group of the others
        (("Piano", "Violin", "Organ"), False, {}),  # the group holds more than its name says
    ],
)
def test_the_last_of_a_family_past_the_group_of_its_name(
    names: tuple[str, ...], past: bool, settings: dict[str, float]
) -> None:
    group = {"Lead Vox": "Vocals", "Bass DI": "Bass Bus"}.get(names[0], "Keys")
    inside = (track(name, output=group) for name in names[:-1])
    at = context(*inside, track(names[-1]), bus(group), mix(), house=House(settings=settings))
    assert value(at, "source", names[-1], "past_its_group") is past
