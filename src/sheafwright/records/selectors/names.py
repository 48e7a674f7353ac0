"""When two names that people typed are one."""


def name_key(name):
    """A name is one name however its letters and spaces were typed."""
    return " ".join(name.split()).casefold()
