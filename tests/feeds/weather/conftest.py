"""Files written for one test."""

import gzip

import pytest


@pytest.fixture
def file(tmp_path):
    """Writes text (or bytes) as a file, gzipped if its name says so."""

    def write(content, name="ann.txt"):
        content = content.encode() if isinstance(content, str) else content
        path = tmp_path / name
        path.write_bytes(gzip.compress(content) if name.endswith(".gz") else content)
        return path

    return write
