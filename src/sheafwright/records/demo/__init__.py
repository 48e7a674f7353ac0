"""The invented demo holding's book, written through the services like any other.

Nothing here is remembered of a real farm. What happens on it is told as stories, each
of which says the next day it acts on; they are lived through in the order of their
days, and stop on the day that the holding is looked at.
"""

import dataclasses
import datetime
from pathlib import Path

from django.core.files.base import ContentFile
from django.db import transaction

from sheafwright.accounts.models import Holding, Person
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.holding import demo_holding, demo_seasons
from sheafwright.records.demo.book import DemoBook, id_of
from sheafwright.records.demo.crop import crop_story
from sheafwright.records.demo.days import live_through
from sheafwright.records.demo.grain import flour_story
from sheafwright.records.demo.hands import hands_story
from sheafwright.records.demo.labour import rates_story
from sheafwright.records.demo.people import PEOPLE, password_renew, people_make
from sheafwright.records.demo.plan import ground_plan
from sheafwright.records.demo.spent import spent_story
from sheafwright.records.demo.trade import trade_story
from sheafwright.records.demo.year import (
    calls_story,
    first_papers,
    gauge_story,
    ground_story,
    plan_story,
    year_story,
)
from sheafwright.records.services.entry import writing
from sheafwright.records.services.work import weather_source_set

FIELDS, SEASONS = 6, 6
MOST_FIELDS = 60


@dataclasses.dataclass(frozen=True)
class Demo:
    holding: Holding
    people: tuple[Person, ...]
    password: str
    """Of every one of them, new each time."""


def demo_make(*, seasons=SEASONS, fields=FIELDS):
    """Make the demo holding's book, or find it if it is there.

    Parameters
    ----------
    seasons : int
        Harvests told, the one that stands in the field among them.
    fields : int
    """
    known = demo_seasons()
    if not (1 <= seasons <= len(known) and 2 <= fields <= MOST_FIELDS):
        raise OutOfRange(
            f"{seasons} seasons on {fields} fields cannot be made up; it should be 1 "
            f"to {len(known)} seasons on 2 to {MOST_FIELDS} fields."
        )
    # It is made in one piece, so it is either all there or not there at all.
    with transaction.atomic():
        made = Holding.objects.filter(pk=id_of("holding")).first()
        if made is None:
            return _make(known, seasons, fields)
    invented = [id_of(f"person {role}") for role in PEOPLE]
    people = tuple(Person.objects.filter(pk__in=invented).order_by("email"))
    return Demo(made, people, password_renew(people))


def _make(known, seasons, fields):
    invented = demo_holding()
    people, password = people_make(id_of)
    book = DemoBook.open(invented, people)
    with writing(book.holding):
        _set_weather(book, invented)
        live_through(
            _stories(book, invented, known, seasons, fields), until=invented.as_of
        )
    return Demo(book.holding, tuple(people.values()), password)


def _stories(book, invented, known, seasons, fields):
    years = book.years(seasons)
    yield gauge_story(book, invented)
    yield first_papers(book, years[0])
    yield rates_story(book, datetime.date(years[0] - 1, 9, 1))
    yield calls_story(book, years[0])
    yield flour_story(book, years[0])
    yield from (year_story(book, year) for year in years)
    yield hands_story(book)
    grounds, crops = ground_plan(book, invented, known, seasons, fields)
    yield from (ground_story(book, ground) for ground in grounds)
    yield plan_story(book, grounds[0].field)
    yield from (crop_story(book, crop) for crop in crops)
    yield from (spent_story(book, year) for year in years)
    yield trade_story(book, years[-1])


def _set_weather(book, invented):
    """The invented weather is what the holding's answers are worked out from."""
    paths = {"record": Path(invented.weather), "columns": Path(invented.columns)}
    files = {
        part: ContentFile(path.read_bytes(), path.name) for part, path in paths.items()
    }
    book.write(weather_source_set, "weather", name="The house", **files)
