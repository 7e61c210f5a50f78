"""The JSON forms, written the same to the byte each time: two-space indent, UTF-8, a newline at the end."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

from mixlint.reports.plain import UNSEEN, json_without_orders

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.reports.several import Told

_UNSEEN = re.compile(f"[{UNSEEN}]")


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return model_json(output.report)


def part(output: ReviewOutput, told: Told) -> tuple[Told, str]:
    """The review of one session among several: what stands between the head of the report and its end."""
    return told, item_of(write(output), "sessions")


def item_of(document: str, within: str) -> str:
    """The one item of a list that is the last thing in a document of mixlint's own.

    Args:
        document: the whole text.
        within: the key of the list.
    """
    _, _, behind = document.partition(f'  "{within}": [\n')
    return behind.removesuffix("\n  ]\n}\n")


def model_json(model: BaseModel) -> str:
    """A model as JSON text, such as a :class:`mixlint.review.findings.Report`."""
    return escaped(model.model_dump_json(indent=2)) + "\n"


def plain_json(body: Any) -> str:
    """A plain structure as JSON text.

    Raises:
        ValueError: a number is NaN or infinite (RFC 8259 has neither).
    """
    return escaped(json.dumps(body, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"


def escaped(text: str) -> str:
    """``text`` with characters that are not seen, or that a terminal or a runner obeys, written as ``\\uXXXX``.

    They occur in strings only, so that the text reads as before.
    """
    return json_without_orders(_UNSEEN.sub(_escape, text))


def _escape(found: re.Match[str]) -> str:
    units = found.group().encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[at : at + 4]}" for at in range(0, len(units), 4))  # RFC 8259, section 7
