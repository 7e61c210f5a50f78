"""The signature of an approval: made and verified by ssh-keygen, as git signs commits with SSH keys.

What is signed is one line, the form and the seal of the approval, in a namespace of its own: a signature made for
anything else is none here, and this one is none elsewhere. Who may sign stands in a file of allowed signers, in the
form of OpenSSH (``ssh-keygen(1)``, ALLOWED SIGNERS), each under the initials that approvals bear.
"""

from __future__ import annotations

import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final, Literal, get_args

from mixlint.comparison.approval import Approval, seal_of
from mixlint.errors import InputError
from mixlint.plain_files import program
from mixlint.session import Unknown

NAMESPACE: Final = "mixlint-approval"
SignatureState = Literal["allowed", "not-allowed", "bad", "none"]
STATES: Final[tuple[str, ...]] = get_args(SignatureState)
PATIENCE_S: Final = 300.0
"""A key may wait for its passphrase, or for a touch."""

LONGEST: Final = 65_536
"""Characters of a signature; one takes less than 4,000 (RSA of 16,384 bits)."""


def signed_with(approval: Approval, key: Path) -> Approval:
    """An approval with the signature of a key.

    Args:
        approval: what is approved.
        key: the private key, or the public one of a key that an agent holds.

    Raises:
        InputError: there is no ssh-keygen, or it did not sign.
    """
    tool = program("ssh-keygen")
    if tool is None:
        raise InputError(
            "there is no ssh-keygen, which signs", where=str(key), do="install OpenSSH, or leave --key out"
        )
    if not key.is_file():
        raise InputError("there is no such key", where=str(key), do="name a key that ssh-keygen has made")
    done = _run([tool, "-Y", "sign", "-n", NAMESPACE, "-f", str(key.absolute())], _statement(approval))
    signature = done.stdout.decode("ascii", "replace")
    if done.returncode or not signature.startswith("-----BEGIN SSH SIGNATURE-----"):
        why = " ".join(done.stderr.decode("utf-8", "replace").split())
        raise InputError(f"ssh-keygen did not sign: {why}", where=str(key), do="check the key and its passphrase")
    return approval.model_copy(update={"signature": signature})


def signature_state(approval: Approval, signers: Path) -> SignatureState | Unknown:
    """What the signature of an approval is worth.

    Args:
        approval: the approval as it was read.
        signers: the file of allowed signers.

    Returns:
        ``allowed``: made by a key that may sign for the one who approved; ``not-allowed``: whole, and made by another
        key; ``bad``: it is none for this approval; ``none``: the approval has none.
    """
    if not approval.signature:
        return "none"
    tool = program("ssh-keygen")
    if tool is None:
        return Unknown(unknown="there is no ssh-keygen, which verifies signatures", settle="a machine with OpenSSH")
    if len(approval.signature) > LONGEST:
        return "bad"
    said = _statement(approval)
    with TemporaryDirectory(prefix="mixlint-") as folder:
        file = Path(folder) / "signature"
        file.write_text(approval.signature, encoding="utf-8", newline="\n")
        common = ["-n", NAMESPACE, "-s", str(file)]
        when = [
            "-O",
            f"verify-time={approval.on.replace('-', '')}2359",
        ]  # a key that ended since has signed all the same
        who = ["-f", str(signers.absolute()), "-I", approval.by]
        if _run([tool, "-Y", "verify", *when, *who, *common], said).returncode == 0:
            return "allowed"
        whole = _run([tool, "-Y", "check-novalidate", *common], said).returncode == 0
    return "not-allowed" if whole else "bad"


def _statement(approval: Approval) -> bytes:
    return f"{approval.format} {seal_of(approval)}\n".encode("ascii")


def _run(command: list[str], given: bytes) -> subprocess.CompletedProcess[bytes]:
    try:
        return subprocess.run(command, input=given, capture_output=True, timeout=PATIENCE_S, check=False)
    except (OSError, subprocess.SubprocessError) as fault:
        raise InputError(
            f"ssh-keygen cannot be used: {fault}", where=command[0], do="check how it is installed"
        ) from fault
