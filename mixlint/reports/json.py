"""The JSON forms, written the same to the byte each time: two-space indent, UTF-8, a newline at the end."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput

_UNSEEN = re.compile("[\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb\ufffe\uffff]")


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return model_json(output.report)


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
    """``text`` with characters a terminal may obey written as ``\\uXXXX``; they occur in strings only."""
    return _UNSEEN.sub(lambda found: f"\\u{ord(found.group()):04x}", text)
