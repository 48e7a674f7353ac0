"""HTTPS on the farm's own network: a small authority, and a certificate signed by it.

A phone keeps entries without a signal only for an address it trusts. It is told once to
trust the authority; certificates can then be made anew, for new addresses, without it.
"""

import datetime
import ipaddress
import os

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_DAYS = 3650
CERTIFICATE_DAYS = 397
"""Phones refuse a certificate that is good for longer than about 13 months."""
RENEW_DAYS = 30


def certificate_for(names, folder):
    """Paths of a certificate for these names and of its key; made if need be."""
    folder.mkdir(parents=True, exist_ok=True)
    authority, authority_key = _authority(folder)
    certificate, key = folder / "server.pem", folder / "server.key"
    if not _still_good(certificate, key, names, authority):
        _make(certificate, key, names, authority, authority_key)
    return certificate, key


def authority_path(folder):
    """The authority's certificate, which phones install."""
    return folder / "authority.crt"


def _authority(folder):
    path, key_path = authority_path(folder), folder / "authority.key"
    if path.exists():
        key = serialization.load_pem_private_key(key_path.read_bytes(), None)
        return x509.load_pem_x509_certificate(path.read_bytes()), key
    key = ec.generate_private_key(ec.SECP256R1())
    name = _name("Sheafwright on this farm")
    only_signs = x509.KeyUsage(
        digital_signature=False,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=True,
        crl_sign=True,
        encipher_only=False,
        decipher_only=False,
    )
    certificate = (
        _begun(name, name, key, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(only_signs, critical=True)
        .sign(key, hashes.SHA256())
    )
    _keep(key_path, _private(key))
    _keep(path, certificate.public_bytes(serialization.Encoding.PEM))
    return certificate, key


def _make(path, key_path, names, authority, authority_key):
    key = ec.generate_private_key(ec.SECP256R1())
    certificate = (
        _begun(_name(names[0]), authority.subject, key, CERTIFICATE_DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(
            x509.SubjectAlternativeName([_general(n) for n in names]), critical=False
        )
        .add_extension(
            x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False
        )
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(
                authority_key.public_key()
            ),
            critical=False,
        )
        .sign(authority_key, hashes.SHA256())
    )
    _keep(key_path, _private(key))
    _keep(path, certificate.public_bytes(serialization.Encoding.PEM))


def _still_good(path, key_path, names, authority):
    if not (path.exists() and key_path.exists()):
        return False
    certificate = x509.load_pem_x509_certificate(path.read_bytes())
    said = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName)
    days_left = certificate.not_valid_after_utc - _now()
    return (
        certificate.issuer == authority.subject
        and set(said.value) == {_general(n) for n in names}
        and days_left > datetime.timedelta(days=RENEW_DAYS)
    )


def _begun(subject, issuer, key, days):
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        # A phone's clock may be behind.
        .not_valid_before(_now() - datetime.timedelta(days=1))
        .not_valid_after(_now() + datetime.timedelta(days=days))
        .add_extension(
            x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False
        )
    )


def _now():
    return datetime.datetime.now(datetime.UTC)


def _name(text):
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, text[:64])])


def _general(name):
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _private(key):
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _keep(path, content):
    """Write it whole or not at all, for this account's eyes alone."""
    new = path.with_suffix(".new")
    new.unlink(missing_ok=True)
    with os.fdopen(
        os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb"
    ) as f:
        f.write(content)
    new.replace(path)
