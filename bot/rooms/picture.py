"""The chart of a class for the room: when it is asked for, and when the class ends."""
from __future__ import annotations

import logging
from datetime import datetime

from bot.store import Store
from bot.talk import Answer, School
from skills.vocabulary import Class, ShowLog

CHART = "chart.png"

_LOG = logging.getLogger(__name__)


def asks_for_chart(answer: Answer) -> bool:
    """Whether somebody asked for it."""
    return any(isinstance(question, ShowLog) and question.form == "plot" for question in answer.heard.questions)


def wants_chart(answer: Answer) -> bool:
    """Whether the room is to see it: it was asked for, or the class is over."""
    return asks_for_chart(answer) or any(isinstance(fact, Class) and fact.act == "end" for fact in answer.heard.facts)


def chart(store: Store, room: str, answer: Answer, now: datetime) -> bytes | None:
    """The picture as a PNG; None where it cannot be drawn."""
    from bot.chart import png as drawn

    over = any(isinstance(fact, Class) and fact.act == "end" for fact in answer.heard.facts)
    classes = [each.id for each in store.classes() if (each.room, each.given) == (room, answer.class_id)]
    school = store.school(room) or School()
    try:
        return drawn(store.log(room, classes[0]), school, None if over else now)
    except Exception:
        _LOG.exception("the chart of %s cannot be drawn", answer.class_id)
        return None
