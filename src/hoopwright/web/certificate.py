"""A certificate of our own for TLS, made on first use, for the names by which the server is asked."""

from __future__ import annotations

import datetime as dt
import ipaddress
from collections.abc import Iterable
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from hoopwright.web.tokens import private_write

DAYS = 397
"""Longest life that browsers take today (from memory)."""

RENEW_DAYS = 21


def own_certificate(folder: Path, names: Iterable[str]) -> tuple[Path, Path]:
    """Paths of certificate and key; made anew where missing, soon over, or for other names.

    Parameters
    ----------
    folder : private to the server.
    names : host names and addresses to stand in it.
    """
    certificate, key = folder / "certificate.pem", folder / "key.pem"
    wanted = tuple(sorted(set(names)))
    if certificate.is_file() and key.is_file() and _good(certificate, wanted):
        return certificate, key
    pair = ec.generate_private_key(ec.SECP256R1())
    made = _signed(pair, wanted)
    private_write(
        key,
        pair.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()),
    )
    private_write(certificate, made.public_bytes(serialization.Encoding.PEM))
    return certificate, key


def _general(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _signed(pair: ec.EllipticCurvePrivateKey, names: tuple[str, ...]) -> x509.Certificate:
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "hoopwright")])
    now = dt.datetime.now(dt.UTC)
    builder = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(pair.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - dt.timedelta(hours=1))
        .not_valid_after(now + dt.timedelta(days=DAYS))
        .add_extension(x509.SubjectAlternativeName([_general(name) for name in names]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
    )
    return builder.sign(pair, hashes.SHA256())


def _good(path: Path, names: tuple[str, ...]) -> bool:
    try:
        found = x509.load_pem_x509_certificate(path.read_bytes())
        alternative = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, x509.ExtensionNotFound):
        return False
    left = found.not_valid_after_utc - dt.datetime.now(dt.UTC)
    return set(alternative) == {_general(name) for name in names} and left > dt.timedelta(days=RENEW_DAYS)
