"""What a receiver of webhooks checks, done anew: RFC 9421 section 3.2 and
RFC 9530."""

import base64
import hashlib
import hmac
import re


def verify(secret, url, headers, body):
    """Raises AssertionError unless the request to `url` is signed with
    `secret`. Returns what is covered, and the signature's parameters."""
    digest = base64.b64encode(hashlib.sha256(body).digest()).decode()
    assert headers["Content-Digest"] == f"sha-256=:{digest}:", "digest"
    said = re.fullmatch(r"(\w+)=(\((.*?)\);.*)", headers["Signature-Input"])
    label, parameters, names = said.groups()
    base = ""
    for name in re.findall(r'"([^"]*)"', names):
        value = {"@method": "POST", "@target-uri": url}.get(
            name, headers[name])
        base += f'"{name}": {value}\n'
    base += f'"@signature-params": {parameters}'
    signature = base64.b64encode(
        hmac.digest(secret, base.encode(), "sha256")).decode()
    assert headers["Signature"] == f"{label}=:{signature}:", "signature"
    return names, parameters
