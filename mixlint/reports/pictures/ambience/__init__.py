"""The effect returns: what their filters leave, what passes dry, when they begin, and where they come out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from mixlint.facts.declare import FactValue
from mixlint.reports.pictures.ambience.panels import drawn_panels, side_text
from mixlint.reports.pictures.ambience.returns import Return, is_cut, returns_of
from mixlint.reports.pictures.picture import Picture, Scene, Words
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import with_unit
from mixlint.review.findings import GRAVITY
from mixlint.session import Unknown, is_known
from mixlint.units import SILENCE_DB, few_text

MOST: Final = 16
"""So many returns are drawn, those with the gravest to look at first; the words tell of all."""

CAPTION_NAME: Final = 60
"""Columns of a name in the caption."""

KINDS: Final = {"hold": "holds the bounce", "look": "look", "note": "note", "ask": "asked"}


SHAPES: Final = {
    "hold": "diamond: holds the bounce",
    "look": "triangle: look",
    "note": "small ring beside an axis: a note",
    "ask": "square: a question",
}


def draw(scene: Scene, name: str, title: str) -> Picture | None:
    """The reverb and delay returns of a session; None where it has none."""
    returns = returns_of(scene.context, scene.findings, scene.rules)
    if not returns:
        return None
    shown = set(sorted(range(len(returns)), key=lambda n: _gravity(returns[n]))[:MOST])
    drawn = drawn_panels([one for n, one in enumerate(returns) if n in shown])
    left = len(returns) - len(shown)
    answer = _answer(returns) + (f" Drawn are {MOST} of them; the words tell of all." if left else "")
    words = Words(
        ("return", "low cut at 60 Hz", "dry signal", "begins after", "comes out", "fed by", "to look at"),
        tuple(tuple(_row(one)) for one in returns),
    )
    return Picture(name, title, answer, drawn, words, tuple(_legend(returns)))


def _gravity(one: Return) -> int:
    return min(({**GRAVITY, "ask": 3}[note.kind] for note in one.notes), default=4)


def _names(returns: Sequence[Return]) -> str:
    return few_text([shortened(neutral(one.name), CAPTION_NAME) for one in returns])


def _figures(returns: Sequence[Return], values: Sequence[FactValue | Unknown]) -> str:
    """Names, each with a value in decibels where that is known: ``Gtr R Verb (0 dB)``."""
    said = []
    for one, value in zip(returns, values, strict=True):
        figure = f" ({_decibels(value.number)})" if is_known(value) else ""
        said.append(shortened(neutral(one.name), CAPTION_NAME) + figure)
    return few_text(said)


def _answer(returns: Sequence[Return]) -> str:
    """What is wrong, by what it is; else how all of them stand."""

    def at(spot: str, *kinds: str) -> list[Return]:
        return [one for one in returns if any(n.spot == spot and n.kind in kinds for n in one.notes)]

    said: list[str] = []
    for kind in GRAVITY:  # the gravest first
        if dry := at("dry", kind):
            said.append(f"Dry signal passes {_figures(dry, [one.dry for one in dry])}.")
        if low := at("curve", kind):
            short = [one for one in low if is_known(one.low_cut) and not is_cut(one)]
            if short:
                figures = _figures(short, [one.low_cut for one in short])
                said.append(f"Too little is taken at 60 Hz on the way of {figures}.")
            if rest := [one for one in low if one not in short]:
                said.append(f"Look at the filters on the way of {_names(rest)}.")
        if side := at("side", kind):
            said.append(f"Look at which side {_names(side)} and what feeds it are on.")
        if early := at("pre-delay", kind):
            said.append(f"Look at the time of {_names(early)}.")
        if rest := at("name", kind):
            said.append(f"Look at {_names(rest)}.")
    hidden = [one for one in returns if isinstance(one.low_cut, Unknown) or isinstance(one.dry, Unknown)]
    if hidden:
        said.append(f"Not all is shown of {_names(hidden)}.")
    if said:
        return " ".join(said)
    cuts = [one.low_cut.number for one in returns if is_known(one.low_cut)]
    dries = [one.dry.number for one in returns if is_known(one.dry)]
    least, most = _decibels(min(cuts)), _decibels(max(cuts))
    down = least if least == most else f"{least.removesuffix(' dB')} to {most}"
    passes = "no dry signal" if max(dries) <= SILENCE_DB else f"at most {_decibels(max(dries))} of dry signal"
    if len(returns) == 1:
        return f"At 60 Hz the return is {down} down, and it passes {passes}."
    return f"At 60 Hz the {len(returns)} returns are {down} down, and they pass {passes}."


def _decibels(value: float) -> str:
    return with_unit(round(value, 1), "dB")


def _legend(returns: Sequence[Return]) -> Iterator[str]:
    """How to read what is there."""
    yield "Curve: the filters on a return's way, against 1 kHz."
    limits = {one.limits.low_cut_db for one in returns} - {None}
    if limits:
        least = max(value for value in limits if value is not None)
        asked = "" if all(one.limits.low_cut_asked for one in returns) else "; faint where the rule does not ask it"
        yield f"Foot at 60 Hz: the curve has to pass under it, {_decibels(least)} down{asked}."
    if any(isinstance(one.response, Unknown) or one.response.hidden for one in returns):
        yield "Hatched: filters that the export does not show."
    echoes = {one.limits.echo_ms for one in returns if one.effect != "delay"} - {None}
    echo = "; upright, from where on it is an echo" if echoes else ""
    yield f"Short axes: dot, the return; ring, what feeds it; heavy, what the rules keep to{echo}."
    said = [text for kind, text in SHAPES.items() if any(n.kind == kind for one in returns for n in one.notes)]
    if said:
        yield f"{'; '.join(said)}.".capitalize()


def _row(one: Return) -> Iterator[str]:
    """A return in words."""
    yield neutral(one.name)
    if isinstance(one.low_cut, Unknown):
        yield f"not known: {neutral(one.low_cut.unknown)}"
    else:
        least = one.limits.low_cut_db
        held = "" if least is None else f", {'' if is_cut(one) else 'not '}the {_decibels(least)} of the rule"
        yield f"{_decibels(one.low_cut.number)} ({neutral(one.low_cut.note)}){held}"
    if isinstance(one.dry, Unknown):
        yield f"not known: {neutral(one.dry.unknown)}"
    else:
        dry = "none" if one.dry.number <= SILENCE_DB else _decibels(one.dry.number)
        yield f"{dry} ({neutral(one.dry.note)})" if one.dry.note else dry
    yield (
        f"not known: {neutral(one.time_ms.unknown)}"
        if isinstance(one.time_ms, Unknown)
        else with_unit(one.time_ms, "ms")
    )
    yield f"not known: {neutral(one.right.unknown)}" if isinstance(one.right, Unknown) else side_text(one.right)
    yield few_text(
        [
            f"{neutral(fed.name)} ({side_text(fed.right) if is_known(fed.right) else 'side not known'})"
            for fed in one.fed
        ],
        12,
        none="nothing",
    )
    yield few_text([f"{neutral(note.text)} ({KINDS[note.kind]})" for note in one.notes], 6, between=" ", none="")
