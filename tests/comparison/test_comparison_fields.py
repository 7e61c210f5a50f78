"""The table of what can be set: nothing of the model is forgotten, and the hash of a mix stays what files hold."""

from __future__ import annotations

import pytest

from mixlint.comparison.digest import mix_digest, sound_digest
from mixlint.comparison.fields import BAND, CHANNEL, CLIP, DYNAMICS, EQUALIZER, INSERT, SEND, Fields
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    MediaFile,
    Parameter,
    Send,
    Session,
    Unknown,
)  # fmt: skip
from mixlint.session.maybe import Frozen

ELSEWHERE: dict[type[Frozen], set[str]] = {
    Channel: {"name", "kind", "parent", "output", "sends", "inserts", "clips", "automation", "missing"},
    Send: {"to"},
    Insert: {"equalizer", "dynamics", "parameters", "saved"},
    Equalizer: {"bands"},
    Clip: {"plays", "file"},
}
"""What is compared with regard to the rest of the session, and so is no field of the table."""

NOT_SET: dict[type[Frozen], set[str]] = {
    Channel: {"id", "folder", "plays", "legs", "loaded", "declared_role", "comment", "where"},
    Send: {"id", "where"},
    Insert: {"id", "kind", "ground", "opaque", "categories", "device", "where"},
    Clip: {"name", "where"},
}
"""What says how a thing is called, known or written, and changes no sound."""


@pytest.mark.parametrize(
    ("model", "fields"),
    [
        (Channel, CHANNEL), (Send, SEND), (Insert, INSERT), (Equalizer, EQUALIZER), (EqualizerBand, BAND),
        (Dynamics, DYNAMICS), (Clip, CLIP),
    ],
)  # fmt: skip
def test_every_field_of_the_model_is_compared_or_left_out_on_purpose(model: type[Frozen], fields: Fields) -> None:
    """A setting that is new in the model has to be entered, or it would change without a word."""
    listed = [field.attribute for field in fields]
    assert len(listed) == len(set(listed))
    known = {*listed, *ELSEWHERE.get(model, ()), *NOT_SET.get(model, ())}
    assert known == set(model.model_fields)


HIDDEN = Unknown(unknown="hidden")


def everything() -> Session:
    """A session that sets a bit of everything."""
    bands = (
        EqualizerBand(kind="high-pass", freq_hz=120.0, q=0.71, slope_db_per_oct=12.0),
        EqualizerBand(kind="bell", freq_hz=2500.0, gain_db=-3.0, q=1.4, on=False),
        EqualizerBand(kind="high-shelf", freq_hz=HIDDEN, gain_db=2.0),
    )
    squash = Dynamics(threshold_db=-18.0, ratio=3.0, attack_ms=10.0, release_ms=120.0, output_gain_db=2.5)
    listed = (Parameter(id="size", value=0.35), Parameter(id="warm", value=True), Parameter(id="mode", value="Room"))
    lanes = (
        Automation(target="fader", scale="dB", t=(0.0, 2.0, 4.0), v=(-6.0, -3.0, -6.0)),
        Automation(target="send:0:level", scale="amplitude", shape="hold", t=(0.0, 8.0), v=(0.5, 0.0)),
        Automation(target="insert:0:wet", scale="plain", t=(0.0,), v=(40.0,)),
    )
    voice = Channel(
        id="v", name="Lead  Voice", kind="track", fader_db=-4.5, pan=-12.0, output="m", automation=lanes,
        sends=(Send(to="p", level_db=-14.0, pan=20.0, tap="pre"), Send(to="p", on=False), Send(to=HIDDEN)),
        inserts=(
            Insert(name="Tarn Strip", wet=100.0, pre_delay_ms=20.0, equalizer=Equalizer(bands=bands), dynamics=squash),
            Insert(name="Old Hall", on=False, loaded=HIDDEN, wet=35.0, parameters=listed),
        ),
        clips=(
            Clip(start_s=1.5, end_s=9.25, file="f", offset_s=0.5, fade_in_s=0.01, fade_out_s=0.2, gain_db=-1.0),
            Clip(start_s=12.0, end_s=20.0, plays="notes", speed=1.25, on=False),
        ),
    )  # fmt: skip
    plate = Channel(id="p", name="Plate", kind="return", mute=True, solo=HIDDEN, output="m", pan=HIDDEN)
    bus = Channel(id="m", name="Mix Bus", kind="master", fader_db=-200.0, output=None)
    media = (MediaFile(id="f", path="audio/Lead Voice 03.wav"),)
    return Session(channels=(voice, plate, bus), media=media)


FROM_0_1_0 = "23bdafb3aff4ccc7c4c442a3"


def test_the_hash_of_a_mix_stays_what_it_is() -> None:
    """Answers and approvals on disk were written with these hashes: another hash would void them.

    The first is that of version 0.1.0; with automation on an insert it was another one there, which took the wet share
    as it happened to be stored for a part of the mix.
    """
    session = everything()
    voice = session.channels[0]
    free = voice.model_copy(update={"automation": voice.automation[:2]})
    assert mix_digest(session.model_copy(update={"channels": (free, *session.channels[1:])})) == FROM_0_1_0
    assert mix_digest(session) == "28a9682272ee4642425f6c86"
    assert sound_digest(everything(), {"f": "sha256:1f"}) == "6f462d99b8f64a3136503e7e"


@pytest.mark.parametrize("fields", [CHANNEL, SEND, INSERT, BAND, DYNAMICS, CLIP])
def test_what_enters_the_hash_is_said_in_the_table(fields: Fields) -> None:
    """Change one field at a time: the hash moves for a field that is marked as hashed, and for no other."""
    session = everything()
    voice = session.channels[0].model_copy(update={"automation": ()})
    before = mix_digest(session.model_copy(update={"channels": (voice, *session.channels[1:])}))
    for field in fields:
        after = mix_digest(session.model_copy(update={"channels": (changed(voice, fields, field.attribute),
                                                                   *session.channels[1:])}))  # fmt: skip
        # A send that is switched off is left out of the hash altogether, so that its switch moves it all the same.
        assert (after != before) is (field.hashed or (fields is SEND and field.attribute == "on")), field.attribute


OTHER = {
    "fader_db": -9.0, "pan": 60.0, "mute": True, "solo": True, "on": False, "level_db": -30.0, "tap": "post",
    "name": "Brook Strip", "loaded": False, "wet": 50.0, "pre_delay_ms": 60.0, "kind": "low-pass", "freq_hz": 300.0,
    "gain_db": 4.0, "q": 3.0, "slope_db_per_oct": 24.0, "threshold_db": -30.0, "ratio": 8.0, "attack_ms": 1.0,
    "release_ms": 300.0, "knee_db": 6.0, "range_db": -20.0, "input_gain_db": 3.0, "output_gain_db": 6.0,
    "auto_makeup": True, "start_s": 1.0, "end_s": 8.0, "offset_s": 2.0, "fade_in_s": 0.5, "fade_out_s": 0.6,
    "speed": 0.5,
}  # fmt: skip


def changed(voice: Channel, fields: Fields, attribute: str) -> Channel:
    """The voice with one field set otherwise, on the strip or on its first send, insert, band or clip."""
    update = {attribute: OTHER[attribute]}
    insert = voice.inserts[0]
    assert insert.equalizer is not None
    assert insert.dynamics is not None
    if fields is CHANNEL:
        return voice.model_copy(update=update)
    if fields is SEND:
        return voice.model_copy(update={"sends": (voice.sends[0].model_copy(update=update), *voice.sends[1:])})
    if fields is CLIP:
        return voice.model_copy(update={"clips": (voice.clips[0].model_copy(update=update), *voice.clips[1:])})
    if fields is BAND:
        first, *rest = insert.equalizer.bands
        bands = insert.equalizer.model_copy(update={"bands": (first.model_copy(update=update), *rest)})
        insert = insert.model_copy(update={"equalizer": bands})
    elif fields is DYNAMICS:
        insert = insert.model_copy(update={"dynamics": insert.dynamics.model_copy(update=update)})
    else:
        insert = insert.model_copy(update=update)
    return voice.model_copy(update={"inserts": (insert, *voice.inserts[1:])})
