"""Who does what in the next half-days; the plan before is what it stays near."""

from sheafwright import __version__
from sheafwright.records.due import Due, tables_sha256
from sheafwright.records.selectors.crew import KEPT, crew_kept

FEW = 6
"""Fields and stooks for which a plan is soon made from nothing."""
AT_ONCE = 1.5
"""Time that it then has, while somebody waits. [s]"""


def crew_due(holding, asked, seconds=None):
    """`Due` of what is `sheafwright.records.selectors.crew.CrewAsked` of a holding.

    Parameters
    ----------
    seconds : float, optional
        In which it is wanted; the planner's own limit if not given.
    """
    from sheafwright.answers.crew import is_there

    asks = {
        "tables": tables_sha256(),
        "engine": __version__,
        "question": repr(asked.question),
        "words": asked.words,
        # A plan that was refused for want of it is asked for again.
        "solver": is_there(),
    }

    def answer(_folder):
        from sheafwright.answers.crew import crew

        before = _before(holding, asked.question)
        return crew(asked.question, before and before.said, seconds), None

    return Due(KEPT, holding, asks, answer)


def is_soon_told(holding, question):
    """Whether it takes three seconds at most: few fields, or a plan to stay near."""
    few = len(question.fields) + len(question.stooks) <= FEW
    return few or _before(holding, question) is not None


def _before(holding, question):
    """The last plan that speaks of some of the same half-days."""
    last = crew_kept(holding=holding)
    names = {half.name for half in question.half_days}
    is_near = last and names & {h["half_day"] for h in last.said["half_days"]}
    return last if is_near else None
