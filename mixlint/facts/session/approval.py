"""The approval beside the session: whether it has to be signed, and what its signature is worth."""

from __future__ import annotations

from mixlint.comparison.approval_signature import STATES, SignatureState, signature_state
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Session, Unknown

FACTS: Facts[Session] = Facts()


@FACTS.fact("switch", "There is an approval, and the standard says who may sign one with an SSH key.")
def approval_to_be_signed(row: Row[Session]) -> bool:
    return row.context.approved is not None and row.context.house.signers is not None


@FACTS.fact(
    "word",
    "What the signature of the approval is worth: made by an allowed signer, by somebody else, bad, or not there.",
    how="derived",
    words=STATES,
)
def approval_signature(row: Row[Session]) -> SignatureState | Unknown:
    approved, signers = row.context.approved, row.context.house.signers
    if approved is None:
        return Unknown(unknown="no mix was approved", settle="an approval")
    if signers is None:
        return Unknown(
            unknown="the standard does not say who may sign approvals",
            settle="a file of allowed signers in the standard",
        )
    return signature_state(approved, signers)


@FACTS.fact("text", "Which mix the approval is of, and who approved it when.")
def approval_by(row: Row[Session]) -> FactValue | Unknown:
    approved = row.context.approved
    if approved is None:
        return Unknown(unknown="no mix was approved", settle="an approval")
    return FactValue(f"mix {approved.mix} by {approved.by} on {approved.on}", "declared")
