import datetime

import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder, Store

from sheafwright.server import certificate
from sheafwright.server.certificate import authority_path, certificate_for

NAMES = ("192.168.1.4", "barn.local", "127.0.0.1", "localhost")


def read(path):
    return x509.load_pem_x509_certificate(path.read_bytes())


@pytest.mark.parametrize(
    "name", [x509.DNSName("barn.local"), x509.DNSName("localhost")]
)
def test_the_authority_vouches_for_every_name(name, tmp_path):
    served, _key = certificate_for(NAMES, tmp_path)
    store = Store([read(authority_path(tmp_path))])
    verifier = PolicyBuilder().store(store).build_server_verifier(name)
    assert len(verifier.verify(read(served), [])) == 2


def test_a_second_start_keeps_the_certificate(tmp_path):
    first = certificate_for(NAMES, tmp_path)[0].read_bytes()
    assert certificate_for(NAMES, tmp_path)[0].read_bytes() == first


def test_a_new_address_gets_a_new_certificate_of_the_same_authority(tmp_path):
    certificate_for(NAMES, tmp_path)
    authority = authority_path(tmp_path).read_bytes()
    served, _key = certificate_for(("192.168.1.9",), tmp_path)
    said = read(served).extensions.get_extension_for_class(x509.SubjectAlternativeName)
    assert [str(ip) for ip in said.value.get_values_for_type(x509.IPAddress)] == [
        "192.168.1.9"
    ]
    assert authority_path(tmp_path).read_bytes() == authority


def test_a_certificate_is_made_anew_before_it_ends(tmp_path, monkeypatch):
    first = certificate_for(NAMES, tmp_path)[0].read_bytes()
    later = datetime.datetime.now(datetime.UTC) + datetime.timedelta(days=380)
    monkeypatch.setattr(certificate, "_now", lambda: later)
    assert certificate_for(NAMES, tmp_path)[0].read_bytes() != first


def test_phones_take_it_for_no_longer_than_they_allow(tmp_path):
    served = read(certificate_for(NAMES, tmp_path)[0])
    good = served.not_valid_after_utc - served.not_valid_before_utc
    assert good <= datetime.timedelta(days=398)


def test_keys_are_for_nobody_else(tmp_path):
    certificate_for(NAMES, tmp_path)
    keys = [tmp_path / "server.key", tmp_path / "authority.key"]
    assert [key.stat().st_mode & 0o777 for key in keys] == [0o600, 0o600]
