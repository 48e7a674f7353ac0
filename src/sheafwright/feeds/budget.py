"""What a crop's money is reckoned from: the tables, and a grower's own file.

A file names its fields, and of everything else only what differs::

    [fields]
    "Long Meadow" = "6 acres"
    [ranges]
    reed_price = [700, 850, 1100]
"""

import dataclasses
from collections.abc import Mapping

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.core.inputs.money import CostedMachine, UseOfMachines
from sheafwright.feeds import units
from sheafwright.feeds.shapes import is_number
from sheafwright.feeds.tables import Row, build, read_file, shipped, within
from sheafwright.feeds.telling import mark, say
from sheafwright.feeds.units import AREAS

FIELDS = "fields"
MACHINES = ("tractor", "cultivator", "binder", "cart", "drum")
USES = ("milling_wheat", "oats", "feed_wheat", "ley")
LAST_MONTH = 35
MOST_LINK = 0.95
LEAST, MOST = 1e-3, 1e7
"""Of any number that can't be nothing; of any number."""
MOST_RF2 = 5


@dataclasses.dataclass(frozen=True)
class Ranges:
    """What is not known: the least, the likely and the most of each."""

    crop: tuple[float, float, float]
    """Sheaves. [t/ha]"""
    kept: tuple[float, float, float]
    """Of the reed, that comes through the weather. [1]"""
    reed_price: tuple[float, float, float]
    """[£/t]"""
    grain_price: tuple[float, float, float]
    """[£/t]"""
    hours: tuple[float, float, float]
    """Times those told. [1]"""
    repairs: tuple[float, float, float]
    """Times those reckoned. [1]"""


@dataclasses.dataclass(frozen=True)
class Links:
    """How two of them go together. [−1–1]"""

    crop_reed_price: float
    kept_reed_price: float
    kept_hours: float
    crop_grain_price: float


LINKED = {
    "crop_reed_price": ("crop", "reed_price"),
    "kept_reed_price": ("kept", "reed_price"),
    "kept_hours": ("kept", "hours"),
    "crop_grain_price": ("crop", "grain_price"),
}


@dataclasses.dataclass(frozen=True)
class Outlay:
    """Prices and rates; each field's name bears its unit."""

    seed_kg_per_ha: float
    seed_gbp_per_kg: float
    contractor_gbp_per_ha: float
    own_ground_work: float
    twine_gbp_per_ha: float
    wage_gbp_per_h: float
    on_costs: float
    straw_h_per_t: float
    grain_h_per_t: float
    fuel_gbp_per_l: float
    storage_gbp_per_t: float
    straw_haulage_gbp_per_t: float
    grain_haulage_gbp_per_t: float
    spoilt_gbp_per_t: float
    certification_gbp_a_year: float
    insurance_gbp_a_year: float
    other_ha: float
    interest: float
    machine_hire_gbp_per_day: float


@dataclasses.dataclass(frozen=True)
class Months:
    """First and last month of each, from the September of sowing, which is 0."""

    ground: tuple[int, int]
    weeding: tuple[int, int]
    cutting: tuple[int, int]
    carting: tuple[int, int]
    threshing: tuple[int, int]
    yearly: tuple[int, int]
    selling: tuple[int, int]
    grain_cheque: tuple[int, int]
    reed_cheque: tuple[int, int]


@dataclasses.dataclass(frozen=True)
class Use:
    """Another use of the field."""

    tonnes: tuple[float, float, float]
    """[t/ha]"""
    price: tuple[float, float, float]
    """[£/t]"""
    straw_gbp_per_ha: float
    cost_gbp_per_ha: float
    """Without the hours."""
    hours_per_ha: float


KINDS = {
    "ranges": Ranges,
    "links": Links,
    "outlay": Outlay,
    "months": Months,
    "use_of_machines": UseOfMachines,
    **dict.fromkeys(MACHINES, CostedMachine),
    **dict.fromkeys(USES, Use),
}
SHARES = {"kept", "own_ground_work", "load", "cultivator_efficiency", "interest", "own"}
"""At most 1."""
ABOVE_NOTHING = {
    "crop",
    "kept",
    "years",
    "cultivator_width",
    "cultivator_speed",
    "cultivator_efficiency",
}


@dataclasses.dataclass(frozen=True)
class Terms:
    """All that a crop's money is reckoned from."""

    fields: Mapping[str, float]
    """Name to area. [ha]"""
    ranges: Ranges
    links: Links
    outlay: Outlay
    months: Months
    use_of_machines: UseOfMachines
    machines: Mapping[str, CostedMachine]
    uses: Mapping[str, Use]
    rows: Mapping[str, Mapping[str, Row]]
    """Section to name to the row that a value came of."""
    given: frozenset[tuple[str, str]] = frozenset()
    """Section and name of each value that is the grower's own."""

    @property
    def area(self):
        """[ha]"""
        return sum(self.fields.values())


def terms_of(fields, own=None, where="your values"):
    """`Terms` of fields by the tables, with the grower's own values in their places.

    Parameters
    ----------
    fields : dict of str to float
        Name to area. [ha]
    own : dict of str to dict of str to Row, optional
        Section to name to the row that goes before the table's.
    where : str
        What the grower's values stand in.
    """
    own = own or {}
    for section in own.keys() - KINDS.keys():
        raise UnreadableInput(
            "{where} has a section {section}, which nothing reads; it should be one "
            "of {sections}.",
            where=where,
            section=section,
            sections=", ".join([FIELDS, *KINDS]),
        )
    _check_fields(fields, where)
    table = shipped("budget")
    rows = {name: {**table[name], **own.get(name, {})} for name in KINDS}
    made = {
        name: _built(kind, rows[name], within(where, name))
        for name, kind in KINDS.items()
    }
    return Terms(
        fields=dict(fields),
        machines={name: made.pop(name) for name in MACHINES},
        uses={name: made.pop(name) for name in USES},
        rows=rows,
        given=frozenset((name, each) for name, rows in own.items() for each in rows),
        **made,
    )


def read_terms(path):
    """`Terms` of a budget file."""
    sections = read_file(path)
    fields = sections.pop(FIELDS, {})
    if not fields:
        raise UnreadableInput(
            '{path} names no field; it should, such as [fields] and below it "Long '
            'Meadow" = "6 acres".',
            path=str(path),
        )
    where = within(str(path), FIELDS)
    areas = {name: _area(row, where) for name, row in fields.items()}
    return terms_of(areas, sections, str(path))


def example_file():
    """A budget file to begin with, every value that may be changed in it."""
    table = shipped("budget")
    yield "[fields]"
    yield '"Long Meadow" = "6 acres"'
    for section in KINDS:
        yield ""
        yield f"[{section}]"
        for name, row in table[section].items():
            yield f"# {name} = {row.value}  # {row.unit}; {row.standing}: {row.source}"


def changed(terms, knobs):
    """`Terms` with the likely value of some changed, their ranges in proportion.

    Parameters
    ----------
    knobs : dict of str to float
        A name of ``KNOBS`` to its value.
    """
    own = {}
    for section, name in terms.given:
        own.setdefault(section, {})[name] = terms.rows[section][name]
    for knob, value in knobs.items():
        section, name = KNOBS[knob]
        was = terms.rows[section][name]
        moved = _moved(was.value, value, name) if section == "ranges" else value
        own.setdefault(section, {})[name] = dataclasses.replace(was, value=moved)
    return terms_of(terms.fields, own, "budget.toml")


KNOBS = {
    "crop": ("ranges", "crop"),
    "kept": ("ranges", "kept"),
    "reed_price": ("ranges", "reed_price"),
    "grain_price": ("ranges", "grain_price"),
    "hours": ("ranges", "hours"),
    "wage": ("outlay", "wage_gbp_per_h"),
    "contractor": ("outlay", "contractor_gbp_per_ha"),
    "drum_day": ("outlay", "machine_hire_gbp_per_day"),
    "interest": ("outlay", "interest"),
}
"""What is tried by one number, and where it stands."""


def _moved(ends, likely, name):
    """A range with another likely value, its ends in proportion."""
    times = likely / ends[1] if ends[1] else 0.0
    least, most = ends[0] * times, ends[2] * times
    if name in SHARES:
        most = max(min(most, 1.0), likely)
    return [least, likely, most]


def _area(row, where):
    if isinstance(row.value, str):
        return units.parse(row.value, "area")
    if not is_number(row.value):
        raise UnreadableInput(
            '{where}: {name} is {value}; it should be an area, such as 2.4 or "6 '
            'acres".',
            where=where,
            name=row.name,
            value=repr(row.value),
        )
    return float(row.value)


def _check_fields(fields, where):
    for name, area in fields.items():
        # Written so that NaN is refused too.
        if not AREAS[0] <= area <= AREAS[1]:
            raise OutOfRange(
                "{where}: {name} has {area:g} ha; it should be from {least:g} to "
                "{most:,} ha.",
                where=where,
                name=name,
                area=area,
                least=AREAS[0],
                most=AREAS[1],
            )


def _built(kind, rows, where):
    made = build(kind, rows, where)
    for name, row in rows.items():
        wrong = _wrong(kind, name, getattr(made, name))
        if wrong:
            raise OutOfRange(
                "{where}: {name} is {value}; it should be {wanted}.",
                where=where,
                name=name,
                value=repr(row.value),
                wanted=say(wrong),
            )
    return made


THREE = mark("the least, the likely and the most, in that order")
MONTHS = mark("the first month and the last, from 0 to 35, in that order")
LINK = mark("from -0.95 to 0.95")
NOT_BELOW = mark("0 or more")
ABOVE = mark("more than nothing")
STEEP = mark("5 at most")
NO_MORE = mark("10,000,000 at most")
A_SHARE = mark("from 0 to 1")
OWN = mark("0 or 1")


def _wrong(kind, name, value):
    """What a value should be, if it can't be as it is; else nothing."""
    if kind is Links:
        return "" if -MOST_LINK <= value <= MOST_LINK else LINK
    if name == "own":
        return "" if value in (0, 1) else OWN
    if isinstance(value, tuple):
        return _wrong_list(kind, name, value)
    return _wrong_number(name, value)


def _wrong_list(kind, name, values):
    wanted, length = (MONTHS, 2) if kind is Months else (THREE, 3)
    if len(values) != length or list(values) != sorted(values):
        return wanted
    if kind is Months:
        whole = all(isinstance(each, int) for each in values)
        return "" if whole and values[0] >= 0 and values[-1] <= LAST_MONTH else MONTHS
    return _wrong_number(name, values[0]) or _wrong_number(name, values[-1])


def _wrong_number(name, value):
    if value < 0:
        return A_SHARE if name in SHARES else NOT_BELOW
    if name in ABOVE_NOTHING and value < LEAST:
        return ABOVE
    if value > MOST:
        return NO_MORE
    if name == "rf2" and value > MOST_RF2:
        return STEEP
    return A_SHARE if name in SHARES and value > 1 else ""
