"""What kind of value stands in a file that a grower writes."""

import datetime


def is_whole(value):
    return isinstance(value, int) and not isinstance(value, bool)


def is_text(value):
    return isinstance(value, str)


def are_texts(value):
    return isinstance(value, tuple) and all(map(is_text, value))


def is_date(value):
    return type(value) is datetime.date
