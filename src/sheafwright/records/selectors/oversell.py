"""What one more promise would leave unkept."""

from sheafwright.answers.orders_question import OrderAsked
from sheafwright.records.selectors.allotment import allotment_with

NEW = "…"
"""What an order is called that has no number yet."""


def oversold_by(*, holding, kind, kg):
    """Sentences of what is oversold once so much more is promised; none if nothing is.

    Parameters
    ----------
    kg : float
        [kg]
    """
    order = OrderAsked(NEW, "", kind, kg, 0.0)
    answer = allotment_with((order,), holding=holding).answer
    if answer is None:
        return []
    return [each.sentence for each in answer.oversold if each.kind == kind]
