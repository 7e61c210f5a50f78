"""The native form: ``mixlint-session/1``, JSON that holds the whole model without loss."""

from __future__ import annotations

import json
from typing import Any, Final, NoReturn

from pydantic import ValidationError

from mixlint.errors import BrokenFile, NotASession, RefusedFile
from mixlint.media.container import Container
from mixlint.session import GAPS, Session

LOSES: tuple[str, ...] = ()
CARRIES = GAPS
SIZE_LIMIT: Final = 128 << 20
FORMAT: Final = "mixlint-session/1"
SCHEMA: Final = "$schema"
"""What an editor is told beside the session: which schema the file keeps to. It is no part of the model."""

_SHOWN: Final = 3


def read(container: Container) -> Session:
    """Read a session in the native form.

    Args:
        container: the file.

    Raises:
        NotASession: it is JSON of another kind.
        BrokenFile: it is no JSON, or does not fit the schema.
        RefusedFile: it is too large or nested too deep.
    """
    return parse(container.read(container.path.name, SIZE_LIMIT), str(container.path))


def parse(data: bytes | str, where: str) -> Session:
    """A session from the text of its native form.

    Args:
        data: the text, or its bytes in UTF-8 with or without a byte order mark.
        where: how messages name the file.

    Raises:
        NotASession: it is JSON of another kind.
        BrokenFile: it is no JSON, or does not fit the schema.
        RefusedFile: it is nested too deep, or holds a number too long to be one.
    """
    text = _text(data, where)
    body = _json(text, where)
    form = body.get("format") if isinstance(body, dict) else None
    if not isinstance(form, str) or not form.startswith("mixlint-session/"):
        raise NotASession(
            "it is JSON but no session: its key 'format' does not say mixlint-session/1",
            where=where,
            do='give it "format": "mixlint-session/1", or name another file',
        )
    if form != FORMAT:
        raise NotASession(
            f"it is written as {form[:60]}, and this version reads {FORMAT}",
            where=where,
            do="write it again with this version of mixlint, or use the version that wrote it",
        )
    if SCHEMA in body:
        text = _without_schema(body, where)
    try:
        # By the text once more: only there a list may be read as a fixed sequence while "3" is no number.
        return Session.model_validate_json(text, strict=True)
    except ValidationError as fault:
        _explain(fault, where)


def _text(data: bytes | str, where: str) -> str:
    try:
        return data if isinstance(data, str) else data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise BrokenFile(f"it is not UTF-8 text (byte {fault.start})", where=where, do="save it as UTF-8") from None


def _without_schema(body: dict[str, Any], where: str) -> str:
    """The text of a session without the key by which an editor finds the schema."""
    if not isinstance(body[SCHEMA], str):
        raise BrokenFile(
            f"it does not fit the form: {SCHEMA}: a text is needed here",
            where=where,
            do="name the schema, as ./session.schema.json, or leave the key out",
        )
    try:
        return json.dumps({key: value for key, value in body.items() if key != SCHEMA})
    except RecursionError:
        raise RefusedFile("it is nested deeper than any session", where=where, do="convert the session again") from None


def _json(text: str, where: str) -> Any:
    try:
        return json.loads(text, object_pairs_hook=lambda pairs: _object(pairs, where), parse_constant=_constant(where))
    except json.JSONDecodeError as fault:
        raise BrokenFile(
            f"it is not well-formed JSON ({fault.msg})",
            where=f"{where}:{fault.lineno}",
            do="correct the line, or convert the session again",
        ) from None
    except RecursionError:
        raise RefusedFile("it is nested deeper than any session", where=where, do="convert the session again") from None
    except ValueError:  # a number of thousands of digits
        raise RefusedFile("it holds a number too long to be one", where=where, do="convert the session again") from None


def _object(pairs: list[tuple[str, Any]], where: str) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) < len(pairs):
        seen: set[str] = set()
        twice = next(key for key, _ in pairs if key in seen or seen.add(key))  # type: ignore[func-returns-value]
        raise BrokenFile(f"the key {twice[:60]!r} stands twice in one object", where=where, do="remove one of them")
    return made


def _constant(where: str) -> Any:
    def refuse(word: str) -> NoReturn:
        raise BrokenFile(
            f"it holds {word}, which is no number in JSON",
            where=where,
            do='write {"unknown": "why"} for what is not known',
        )

    return refuse


def _explain(fault: ValidationError, where: str) -> NoReturn:
    """The first few misfits with their keys, in plain words."""
    seen: dict[str, str] = {}
    for one in fault.errors(include_url=False):
        seen.setdefault(_key(one["loc"]), _plain(one))
    shown = [f"{key or 'the session'}: {what}" for key, what in list(seen.items())[:_SHOWN]]
    more = f", and {len(seen) - _SHOWN} more" if len(seen) > _SHOWN else ""
    raise BrokenFile(
        "it does not fit the form: " + "; ".join(shown) + more,
        where=where,
        do="compare it with schemas/session.schema.json and correct the keys named",
    ) from None


_BRANCHES: Final = frozenset(
    {"float", "int", "bool", "str", "Unknown", "Timeline", "Equalizer", "Dynamics", "none", "constrained-float"}
)


def _key(location: tuple[int | str, ...]) -> str:
    """``channels[3].fader_db`` without the names of the branches that a union tried."""
    text = ""
    for part in location:
        if isinstance(part, int):
            text += f"[{part}]"
        elif part not in _BRANCHES and not part.startswith(("literal[", "function-", "tuple[", "constrained-")):
            text += f".{part}" if text else part
    return text


def _plain(one: Any) -> str:
    kind = one["type"]
    if kind == "extra_forbidden":
        return "there is no such key"
    if kind == "missing":
        return "this key is missing"
    if kind == "tuple_type":
        return "a list is needed here"
    message = str(one["msg"]).removeprefix("Value error, ")
    return message[:1].lower() + message[1:]
