"""All fields together: what the plan is worth, and what the holding's limits allow.

Every field is a network of its own (`paths`); the fields meet only in hectares of each
kind of growing a year, and everything else is said of those.
"""

from collections import defaultdict
from typing import NamedTuple

from sheafwright.planning.cropping import rotation, worth
from sheafwright.planning.cropping.paths import paths
from sheafwright.planning.cropping.problem import ORGANIC
from sheafwright.planning.cropping.program import INFINITY, Program
from sheafwright.planning.cropping.rotation import WHEAT

WEEKS = 52


class Rule(NamedTuple):
    """One thing that a plan must keep, and that could be given up to find a plan."""

    kind: str
    """A rule of the rotation, or ``pin``, ``wanted``, ``hands``, ``binder``,
    ``parallel``, ``increase``."""
    about: tuple = ()
    """Which pin, which year, which of those wanted."""


def rules_of(problem, pins):
    """Every `Rule` of a problem."""
    yield from (Rule("pin", pin) for pin in pins)
    yield from (
        Rule("wanted", (each, wanted)) for each, wanted in enumerate(problem.wanted)
    )
    if problem.increase:
        yield Rule("increase", problem.increase)
    for year in problem.years:
        yield from (Rule(kind, (year,)) for kind in ("binder", "hands", "parallel"))
    yield from (Rule(name) for name in rotation.RULES)


def field_choices(problem, field, in_force):
    """By year: crop, kind and status of what a field may grow, pins being kept."""
    pinned = {
        rule.about.year: rule.about.crop
        for rule in in_force
        if rule.kind == "pin" and rule.about.field == field.name
    }
    return tuple(
        tuple(
            (each.crop, problem.crops[each.crop].kind, each.status)
            for each in offered
            if pinned.get(year, each.crop) == each.crop
        )
        for year, offered in zip(problem.years, field.choices, strict=True)
    )


def field_paths(problem, field, in_force):
    """`Paths` of one field under the rules in force, or None."""
    names = frozenset(rule.kind for rule in in_force if rule.kind in rotation.RULES)
    choices = field_choices(problem, field, in_force)
    return paths(field.state, choices, problem.rotation, names)


class Model:
    """The program of a problem under some rules, and what its columns mean."""

    def __init__(self, problem, in_force):
        self.problem, self.in_force = problem, frozenset(in_force)
        self.program = Program()
        self.networks = {
            field.name: field_paths(problem, field, self.in_force)
            for field in problem.fields
        }
        self.possible = None not in self.networks.values()
        self.arcs = {}
        """Field to the columns of its network's arcs, in their order."""
        self.areas = {}
        """(year position, growing) to a column. [ha]"""
        self.hands = defaultdict(dict)
        """Week to the columns of work in it, with their hours."""
        if self.possible:
            self._fields()
            self._work()
            self._wanted()
            self._parallel()
            self._increase()
            self._worth()

    def forced(self, kind, *about):
        """Whether a rule is in force."""
        return Rule(kind, about) in self.in_force

    def area(self, year, wanted):
        """{column: 1} of whatever is so grown in a year."""
        return {
            column: 1.0
            for (at, growing), column in self.areas.items()
            if at == year and wanted(growing)
        }

    def is_crop(self, name):
        """Whether a growing is of a crop, or of a kind of crop, so named."""
        crops = self.problem.crops
        return lambda growing: name in (growing.crop, crops[growing.crop].kind)

    def hours_by_week(self, values):
        """Hours worked by week, of the values of all columns. [h]"""
        return {
            week: sum(hours * values[column] for column, hours in entries.items())
            for week, entries in sorted(self.hands.items())
        }

    def peaks(self):
        """New columns, {column: -1}: each year's busiest week, in its hours."""
        busiest = {}
        for week, entries in self.hands.items():
            year, of_year = divmod(week - 1, WEEKS)
            if year not in busiest:
                busiest[year] = self.program.column()
            there_are = {busiest[year]: -self.problem.hours[of_year]}
            self.program.row(entries | there_are, upper=0.0)
        return dict.fromkeys(busiest.values(), -1.0)

    def _fields(self):
        hectares = defaultdict(dict)
        for field in self.problem.fields:
            network = self.networks[field.name]
            balance = [{} for _ in range(network.nodes)]
            columns = self.arcs[field.name] = []
            for arc in network.arcs:
                column = self.program.column(upper=1.0, whole=True)
                columns.append(column)
                balance[arc.start][column] = 1.0
                balance[arc.end][column] = -1.0
                hectares[arc.year, arc.growing][column] = field.area
            for node, entries in enumerate(balance[:-1]):
                came = 1.0 if node == 0 else 0.0
                self.program.row(entries, came, came)
        for grown, entries in hectares.items():
            column = self.areas[grown] = self.program.column(
                worth=worth.left(grown[1], self.problem)
            )
            self.program.row(entries | {column: -1.0}, 0.0, 0.0)

    def _work(self):
        """Each work is done in its weeks, within the hours and days that there are."""
        binder = defaultdict(dict)
        for year in range(len(self.problem.years)):
            for name, crop in self.problem.crops.items():
                area = self.area(year, lambda growing, name=name: growing.crop == name)
                if not area:
                    continue
                for place, hours in enumerate(crop.work_h_per_ha):
                    weeks = self._weeks(year, name, place)
                    self.program.row(dict.fromkeys(weeks, 1.0) | _less(area), 0.0, 0.0)
                    for column, week in weeks.items():
                        self.hands[week][column] = hours
                        if crop.work_by_binder[place]:
                            binder[week][column] = 1.0
        self._limits(binder)

    def _weeks(self, year, name, place):
        """{column: week} of one work; weeks count on from the first year's first."""
        crop, weeks = self.problem.crops[name], {}
        for week in range(crop.work_first_week[place], crop.work_last_week[place] + 1):
            column = self.program.column()
            weeks[column] = WEEKS * year + week
        return weeks

    def _limits(self, binder):
        first = self.problem.years[0]
        for week, entries in self.hands.items():
            year, of_year = divmod(week - 1, WEEKS)
            if self.forced("hands", max(first, first + year)):
                self.program.row(entries, upper=self.problem.hours[of_year])
        for week, entries in binder.items():
            if self.forced("binder", first + (week - 1) // WEEKS):
                self.program.row(entries, upper=self.problem.binder_ha_per_week)

    def _wanted(self):
        for place, wanted in enumerate(self.problem.wanted):
            if self.forced("wanted", place, wanted):
                self.program.row(
                    self.wanted_area(wanted), wanted.least_ha, wanted.most_ha
                )

    def wanted_area(self, wanted):
        """{column: 1} of what counts for something wanted."""
        is_crop = self.is_crop(wanted.crop)
        return self.area(
            self.problem.years.index(wanted.year),
            lambda growing: (
                is_crop(growing) and (growing.status == ORGANIC or not wanted.organic)
            ),
        )

    def _parallel(self):
        """Of one variety in one year, all is organic or none."""
        crops = defaultdict(set)
        for crop, variety in self.problem.varieties.items():
            crops[variety].add(crop)
        for place, year in enumerate(self.problem.years):
            if self.forced("parallel", year):
                for same in crops.values():
                    self._all_or_none(place, same)

    def _all_or_none(self, year, crops):
        by_field = {True: defaultdict(dict), False: defaultdict(dict)}
        for name, columns in self.arcs.items():
            arcs = zip(self.networks[name].arcs, columns, strict=True)
            for arc, column in arcs:
                if arc.year == year and arc.growing.crop in crops:
                    organic = arc.growing.status == ORGANIC
                    by_field[organic][name][column] = 1.0
        if all(by_field.values()):
            organic = self.program.column(upper=1.0, whole=True)
            for entries in by_field[True].values():
                self.program.row(entries | {organic: -1.0}, upper=0.0)
            for entries in by_field[False].values():
                self.program.row(entries | {organic: 1.0}, upper=1.0)

    def _increase(self):
        """Seed kept of one year's plot sows the next; plots lie in first wheats."""
        self.plots = {}
        increase, rates = self.problem.increase, self.problem.seed_plot
        if not increase:
            return
        is_wheat = self.is_crop(WHEAT)
        stock = self.program.column(lower=increase.seed_kg, upper=increase.seed_kg)
        for place, year in enumerate(self.problem.years):
            sown = rates.sown_kg_per_ha
            plot = self.plots[place] = self.program.column()
            ground = self.area(place, lambda each: is_wheat(each) and not each.second)
            self.program.row({plot: 1.0} | _less(ground), upper=0.0)
            self.program.row({plot: sown, stock: -1.0}, upper=0.0)
            ahead = self.program.column()
            kept = {ahead: 1.0, stock: -1.0, plot: sown - rates.kept_kg_per_ha}
            self.program.row(kept, 0.0, 0.0)
            stock = ahead
            if year == increase.year and Rule("increase", increase) in self.in_force:
                self.program.row({plot: 1.0}, lower=increase.wanted_ha)

    def _worth(self):
        """The mean of all seasons and that of the worst, by the caution between."""
        seasons = self.problem.seasons
        for year in range(len(self.problem.years)):
            least = self.program.column(worth=seasons.caution, lower=-INFINITY)
            for season, chance in enumerate(seasons.chance):
                weight = (1 - seasons.caution) * chance
                worth_of = self._season(year, season, weight)
                short = self.program.column(
                    worth=-seasons.caution * chance / seasons.worst_share
                )
                self.program.row({short: 1.0, worth_of: 1.0, least: -1.0}, lower=0.0)

    def _season(self, year, season, weight):
        """The column of one year's worth in one kind of season. [GBP]"""
        problem, program = self.problem, self.program
        column = program.column(weight, lower=-INFINITY)
        brought, straw = {column: -1.0}, {}
        for (at, growing), area in self.areas.items():
            if at == year:
                brought[area] = worth.money(growing, problem)[season]
                if tonnes := worth.straw_t(growing, problem)[season]:
                    straw[area] = -tonnes
        surplus = INFINITY, problem.straw.surplus_gbp_per_t
        for most, price in (*problem.buyers, surplus) if straw else ():
            sold = program.column(upper=most)
            brought[sold], straw[sold] = price, 1.0
        if year in self.plots:
            brought[self.plots[year]] = -problem.seed_plot.cost_gbp_per_ha
        program.row(brought, 0.0, 0.0)
        if straw:
            program.row(straw, 0.0, 0.0)
        return column


def _less(entries):
    return {column: -factor for column, factor in entries.items()}
