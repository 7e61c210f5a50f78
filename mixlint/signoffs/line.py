"""One sign-off, one line: how it is written and read.

::

    sign return-fully-wet return "Plate" because "intended sound" by RM on 2026-03-14 until never for finding ↵
        grade hold rests dry_db=-9.5 effect="reverb"
    answer return-low-cut return "Hall" yes because "listened to it alone" by TK on 2026-03-14 until never ↵
        for finding content 6f0c…/9b1e…

(broken here at ↵ for the page). Words stand bare, texts in JSON's quotes, values as JSON. The order of the words is
fixed, so that two lines differ only in what was said otherwise.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final, Literal, get_args

from mixlint.naming import fold_name
from mixlint.review.findings import Scalar
from mixlint.review.worsening import EvidenceValue
from mixlint.unseen import with_unseen_escaped

Scope = Literal["finding", "part", "song", "project"]
SCOPES: tuple[str, ...] = get_args(Scope)
AnswerWord = Literal["yes", "no", "not-applicable"]
ANSWERS: tuple[str, ...] = get_args(AnswerWord)

INITIALS: Final = re.compile(r"[^\W_][\w.+'-]{0,15}")
_FINITE: Final = json.JSONDecoder(parse_constant=lambda word: _refuse(word))


@dataclass(frozen=True, slots=True)
class SignOff:
    """One line.

    Args:
        rule: the rule's id.
        table: the table of the row.
        name: the row's name; the channel's for scope ``part``; empty for wider scopes.
        number: which of several rows of one name, from 1.
        because: the reason.
        by: the initials.
        on: the day it was made.
        until: ``never``, a day (ISO 8601), or ``mix N``.
        scope: what it covers.
        grade: the grade it was signed at; empty for an answer.
        answer: the answer, where a question was asked.
        content: what the answer rests on: the hash of the mix, and of its sound where it was heard.
        settings: the hash of the saved settings it rests on, which nobody reads; empty where it rests on none.
        rests: the facts it rests on. For wider scopes the worst of each.
        limits: the limits these were held to, so that it can be told which way is worse.
    """

    rule: str
    table: str
    name: str
    because: str
    by: str
    on: date
    number: int = 1
    until: str = "never"
    scope: Scope = "finding"
    grade: str = ""
    answer: AnswerWord | None = None
    content: str = ""
    settings: str = ""
    rests: dict[str, EvidenceValue] = field(default_factory=dict)
    limits: dict[str, EvidenceValue] = field(default_factory=dict)

    @property
    def key(self) -> tuple[str, ...]:
        """What it signs: two lines with one key are about the same thing."""
        return (self.rule, self.scope, self.table, fold_name(self.name), str(self.number))

    @property
    def signer(self) -> str:
        """The initials, letter case aside."""
        return fold_name(self.by)


def line_text(item: SignOff) -> str:
    """A sign-off as one line of text."""
    words = ["answer" if item.answer else "sign", item.rule, item.table]
    if item.scope not in ("song", "project"):
        words.append(_text(item.name))
    if item.number > 1:
        words.append(f"number {item.number}")
    if item.answer:
        words.append(item.answer)
    words += ["because", _text(item.because), "by", item.by, "on", item.on.isoformat()]
    words += ["until", item.until, "for", item.scope]
    if item.grade:
        words += ["grade", item.grade]
    if item.content:
        words += ["content", item.content]
    if item.settings:
        words += ["settings", item.settings]
    if item.rests:
        words += ["rests", *(f"{fact}={_value(value)}" for fact, value in sorted(item.rests.items()))]
    if item.limits:
        words += ["held-to", *(f"{fact}={_value(value)}" for fact, value in sorted(item.limits.items()))]
    return " ".join(words)


def read_line(text: str) -> SignOff:
    """A sign-off from one line.

    Args:
        text: the line, with or without its end.

    Raises:
        ValueError: the line is none; the message says where it goes wrong.
    """
    words = _LineReader(text)
    kind = words.bare("sign or answer")
    if kind not in ("sign", "answer"):
        raise ValueError(f"a line begins with sign or answer, not {kind}")
    rule, table = words.bare("the rule's id"), words.bare("the table")
    name = words.text("the name") if words.next_is_text() else ""
    number = int(words.number()) if words.skip("number") else 1
    answer: Any = words.one_of(ANSWERS, "the answer") if kind == "answer" else None
    words.need("because")
    because = words.text("the reason")
    words.need("by")
    by = words.bare("the initials")
    if not INITIALS.fullmatch(by):
        raise ValueError(f"{by} are no initials")
    words.need("on")
    on = _day(words.bare("the day"))
    words.need("until")
    until = words.bare("never, a day or a mix")
    if until == "mix":
        until = f"mix {words.number()}"
    elif until != "never":
        _day(until)
    words.need("for")
    scope: Any = words.one_of(SCOPES, "the scope")
    if scope in ("finding", "part") and not name:
        raise ValueError(f"a sign-off for one {scope} names it")
    grade = words.one_of(("hold", "look", "note"), "the grade") if words.skip("grade") else ""
    content = words.bare("the content") if words.skip("content") else ""
    settings = words.bare("the hash of the settings") if words.skip("settings") else ""
    rests = words.values() if words.skip("rests") else {}
    limits = words.values() if words.skip("held-to") else {}
    words.end()
    return SignOff(
        rule=rule, table=table, name=name, number=number, because=because, by=by, on=on, until=until, scope=scope,
        grade=grade, answer=answer, content=content, settings=settings, rests=rests, limits=limits,
    )  # fmt: skip


def end_of(text: str) -> str:
    """When a sign-off ends, as its line has it: ``never``, a day (ISO 8601), or ``mix N``.

    Args:
        text: the same as a reader has typed it.

    Raises:
        ValueError: it is none of these.
    """
    plain = " ".join(text.split()).casefold()
    if plain == "never":
        return plain
    if found := re.fullmatch(r"mix (\d{1,6})", plain):
        return f"mix {int(found[1])}"
    return _day(plain).isoformat()


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text} is no day; write it as 2026-03-14") from None


def _text(text: str) -> str:
    """A text in JSON's quotes on one line, every character escaped that a reader would not see."""
    return with_unseen_escaped(json.dumps(text, ensure_ascii=False))


def _value(value: EvidenceValue) -> str:
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, tuple):
        return f"[{','.join(_value(one) for one in value)}]"
    return json.dumps(value, allow_nan=False)


def _refuse(word: str) -> float:
    raise ValueError(f"{word} is no number")


class _LineReader:
    """Reads a line word by word."""

    def __init__(self, text: str) -> None:
        self.text_ = text.strip()
        self.at = 0

    def _pass_space(self) -> None:
        while self.at < len(self.text_) and self.text_[self.at] in " \t":
            self.at += 1

    def next_is_text(self) -> bool:
        """A text in quotes comes next."""
        self._pass_space()
        return self.text_.startswith('"', self.at)

    def bare(self, what: str) -> str:
        """The next bare word."""
        self._pass_space()
        found = re.compile(r'[^\s"]+').match(self.text_, self.at)
        if not found:
            raise ValueError(f"{what} is missing after {self.text_[: self.at].strip() or 'the beginning'}")
        self.at = found.end()
        return found[0]

    def text(self, what: str) -> str:
        """The next text in quotes."""
        if not self.next_is_text():
            raise ValueError(f'{what} is missing: it stands in quotes, as in "intended sound"')
        value = self._json()
        return str(value)

    def _json(self) -> Any:
        try:
            value, self.at = _FINITE.raw_decode(self.text_, self.at)
        except (ValueError, RecursionError) as fault:
            raise ValueError(f"what begins {self.text_[self.at : self.at + 20]} cannot be read: {fault}") from fault
        return value

    def number(self) -> str:
        """The next word, which is a whole number."""
        word = self.bare("a number")
        if not re.fullmatch(r"\d{1,6}", word):
            raise ValueError(f"{word} is no whole number")
        return str(int(word))

    def one_of(self, words: tuple[str, ...], what: str) -> str:
        """The next word, which is one of a few."""
        word = self.bare(what)
        if word not in words:
            raise ValueError(f"{what} is one of {', '.join(words)}, not {word}")
        return word

    def skip(self, word: str) -> bool:
        """Pass over ``word`` where it comes next."""
        self._pass_space()
        found = re.compile(rf"{re.escape(word)}(?=\s|$)").match(self.text_, self.at)
        if found:
            self.at = found.end()
        return found is not None

    def need(self, word: str) -> None:
        """Pass over ``word``, which must come next."""
        if not self.skip(word):
            raise ValueError(f"{word} is missing before {self.text_[self.at : self.at + 20] or 'the end'}")

    def values(self) -> dict[str, EvidenceValue]:
        """``fact=value`` as often as it comes."""
        found: dict[str, EvidenceValue] = {}
        while True:
            self._pass_space()
            name = re.compile(r"([a-z][a-z0-9_]*)=").match(self.text_, self.at)
            if not name:
                return found
            if name[1] in found:
                raise ValueError(f"{name[1]} stands twice")
            self.at = name.end()
            found[name[1]] = _scalar(self._json())

    def end(self) -> None:
        """Nothing may follow."""
        self._pass_space()
        if self.at < len(self.text_):
            raise ValueError(f"nothing is expected at {self.text_[self.at : self.at + 20]}")


def _scalar(value: Any) -> EvidenceValue:
    if isinstance(value, list):
        return tuple(_one(v) for v in value)
    return None if value is None else _one(value)


def _one(value: Any) -> Scalar:
    if isinstance(value, bool | int | float | str):
        return value
    raise ValueError("a value is a number, a text, true or false, or a list of these")
