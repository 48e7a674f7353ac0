"""Stories lived through in the order of their days."""

import heapq


def live_through(stories, until):
    """Let every story act, day by day, up to a day and no further.

    Parameters
    ----------
    stories : iterable of generator
        Each yields the next day that it acts on, none earlier than the last.
    until : datetime.date
    """
    coming = []
    for order, story in enumerate(stories):
        _wait(coming, order, story)
    while coming and coming[0][0] <= until:
        _day, order, story = heapq.heappop(coming)
        _wait(coming, order, story)


def _wait(coming, order, story):
    day = next(story, None)
    if day is not None:
        heapq.heappush(coming, (day, order, story))
