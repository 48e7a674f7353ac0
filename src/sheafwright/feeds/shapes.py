"""What kind of value stands in a file that a grower writes."""

import datetime
import sys


def is_number(value):
    # Compared, not turned into a float: no float holds every whole number.
    numbers = isinstance(value, int | float) and not isinstance(value, bool)
    return numbers and abs(value) <= sys.float_info.max


def is_whole(value):
    return isinstance(value, int) and not isinstance(value, bool)


def is_text(value):
    return isinstance(value, str)


def are_texts(value):
    return isinstance(value, tuple) and all(map(is_text, value))


def is_date(value):
    return type(value) is datetime.date
