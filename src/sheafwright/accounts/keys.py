"""Keys of tokens: what is kept of one in place of the key itself."""

import hashlib


def key_sha256(key):
    return hashlib.sha256(key.encode()).hexdigest()
