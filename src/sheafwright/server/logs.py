"""What the server writes to its log: where it went wrong, never what was said."""

import logging
import traceback


class NothingPersonal(logging.Formatter):
    """Leaves out an error's own words, in which a database quotes what it was given."""

    def __init__(self):
        super().__init__("%(asctime)s %(levelname)s %(name)s: %(message)s")

    def formatException(self, ei):  # noqa: N802 (the name is logging's)
        kind, _, frames = ei
        return "".join(traceback.format_tb(frames)) + kind.__name__
