"""Why there is no plan: the fewest rules that cannot all be kept, one of many.

References
----------
.. [1] U. Junker, QuickXplain: preferred explanations and relaxations for
   over-constrained problems, AAAI 2004.
"""

from sheafwright.planning.cropping import rotation
from sheafwright.planning.cropping.model import Model, field_choices, rules_of
from sheafwright.planning.cropping.paths import reached

SECONDS = 5.0
"""For one trial. A trial that proves nothing in time counts as one that can be kept, so
that the rules named may then be more than the fewest. [s]"""


def clash(problem, pins):
    """Rules that cannot all be kept, none of which could be left out.

    Returns
    -------
    tuple of Rule
        Empty where all can be kept, or where nothing is proven in time.
    """
    rules = tuple(rules_of(problem, pins))
    if _can(problem, rules):
        return ()
    return _fewest(problem, (), (), rules)


def _fewest(problem, base, newly, rules):
    """The rules, of these, that clash with the base, which has newly grown."""
    if newly and not _can(problem, base):
        return ()
    if len(rules) == 1:
        return rules
    half = len(rules) // 2
    first, rest = rules[:half], rules[half:]
    later = _fewest(problem, base + first, first, rest)
    return _fewest(problem, base + later, later, first) + later


def _can(problem, rules):
    model = Model(problem, rules)
    if not model.possible:
        return False
    model.program.aim({})
    return not model.program.run(SECONDS).impossible


def most_area(problem, rules, wanted):
    """The most of something wanted that these rules allow, if they allow any. [ha]"""
    model = Model(problem, rules)
    if not model.possible:
        return None
    model.program.aim(model.wanted_area(wanted))
    found = model.program.run(SECONDS)
    return None if found.impossible else found.bound


def hindered(problem, rules, wanted):
    """Fields that can't grow something wanted in its year, and what hinders them.

    Yields
    ------
    tuple of str, tuple of str
        Field, and rules of the rotation: one, where one hinders whatever came before.
    """
    year = problem.years.index(wanted.year)
    names = frozenset(rule.kind for rule in rules)
    for field in problem.fields:
        choices = field_choices(problem, field, frozenset(rules))
        states = reached(field.state, choices, problem.rotation, names)[year]
        kinds = {kind for crop, kind, _ in choices[year] if wanted.crop in (crop, kind)}
        breaks = [
            names.intersection(rotation.broken(state, kind, problem.rotation))
            for state in states
            for kind in kinds
        ]
        if breaks and all(breaks):
            always = frozenset.intersection(*breaks)
            ever = [each for each in rotation.RULES if each in frozenset.union(*breaks)]
            one = [each for each in ever if each in always][:1]
            yield field.name, tuple(one or ever)
