"""What we raise on purpose, and what the grower is told.

SheafwrightError
  OutOfRange         a number no field could have: which one, and its limits
  NotEnoughWeather   a gap or too short a record: which days, or how many years
  UnreadableInput    a file or typed value: what, where, and what would be right
  ServiceUnavailable a forecast that could not be fetched, and what still works
  NoPlan             every plan breaks a rule, or none was found: which rules clash
"""


class SheafwrightError(Exception):
    """Everything we raise on purpose; its text is one sentence for the grower.

    Parameters
    ----------
    words : str
        With ``{values}`` in them, so that they can be told in other languages.
    """

    def __init__(self, words, /, **values):
        super().__init__(words.format(**values) if values else words)
        self.words, self.values = words, values


class OutOfRange(SheafwrightError):
    """A number no field could have."""


class NotEnoughWeather(SheafwrightError):
    """A gap in the series, or too few years of it."""


class UnreadableInput(SheafwrightError):
    """A file or a typed value that cannot be understood."""


class ServiceUnavailable(SheafwrightError):
    """Somebody else's service did not answer."""


class NoPlan(SheafwrightError):
    """No plan keeps every rule, or none was found in time."""
