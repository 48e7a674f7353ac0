"""Works out, beside the pages, the answers that they show.

A process of its own: the engine would otherwise hold up every page while it thinks.
"""

import logging
import os
import sys
import threading

PAUSE = 20
"""Between two looks at what is due. [s]"""

log = logging.getLogger(__name__)


def run_forever(stop, pause=PAUSE):
    """Fill what is due, holding by holding, until told to stop."""
    from sheafwright.accounts.models import Holding

    while not stop.is_set():
        for holding in Holding.objects.all():
            if stop.is_set():
                return
            _fill(holding)
        stop.wait(pause)


def _fill(holding):
    from django.db import close_old_connections

    from sheafwright.records.fill import fill_due
    from sheafwright.records.services.tracings import tracings_tidy

    close_old_connections()
    try:
        tracings_tidy(holding)
        fill_due(holding)
    except Exception:
        # One holding's bad file must not keep the others waiting for their answers.
        log.exception("The answers of holding %s could not be worked out.", holding.pk)


def main():
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "sheafwright.server.settings")
    django.setup()
    # Pages come first, where the system knows of such manners.
    if hasattr(os, "nice"):
        os.nice(10)
    stop = threading.Event()
    filler = threading.Thread(target=run_forever, args=(stop,), daemon=True)
    filler.start()
    # The server holds the other end: when it is gone, however it went, this reads on.
    sys.stdin.read()
    stop.set()


if __name__ == "__main__":
    main()
