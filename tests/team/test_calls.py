"""Calls in the room: taken, answered, asked again once, passed to the lead once, then left on the board.

The rules are those of the job's section 5; the waits are common practice, no source: the tests take them from the
code and check order, names and counts.
"""
from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from skills.skill import Prompt
from skills.team.calls import TAKEN, put_off
from tests.team.room import Yard, at, out, refuel


def open_keys(yard: Yard) -> list[str]:
    return [each.call.key for each in yard.session.standing()]


def test_a_call_is_open_until_it_is_answered_by_what_it_asks_for() -> None:
    yard = Yard([refuel(0)])
    call, = yard.run(1)
    assert open_keys(yard) == ["refuel:barrel:0"]
    yard.say(2, "floor 180 in the barrel")
    assert open_keys(yard) == ["refuel:barrel:0"]
    yard.say(3, "two on the barrel")
    assert open_keys(yard) == []
    assert yard.run(60) == []
    assert call.who == "Tomos"


def test_nobody_answers_then_one_reminder_by_name_then_the_lead_then_silence() -> None:
    yard = Yard([refuel(0)])
    said = yard.run(300)
    assert [action.prompt for action in said] == ["refuel", "reminder", "lead"]
    assert [action.who for action in said] == ["Tomos", "Tomos", "Mara"]
    assert said[1].text == said[0].text
    assert "Tomos" in said[2].text
    assert said[2].text.startswith("Mara: ")
    assert open_keys(yard) == ["refuel:barrel:0"]


def test_a_call_with_an_act_is_said_again_in_other_words_and_only_while_the_act_is_possible() -> None:
    """Food safety is said once, owned and kept on the board; its one reminder names the act (the job's section 5)."""
    hold = Prompt("safety", "safety:hold:1:goat", at(0), "Tomos: goat below 63 since 10:30: use or chill by 12:30.",
                  None, "goat", "Tomos", at(60), urgent=True, act="goat, use or chill")
    first, again, *_ = Yard([hold]).run(300)
    assert first.text == hold.text
    assert again.text == f"Tomos: still open since {at(0):%H:%M}: goat, use or chill."
    late = Yard([replace(hold, lapses=at(5))])
    assert [action.prompt for action in late.run(300)] == ["safety"]
    assert open_keys(late) == [hold.key]


def test_what_the_lead_was_asked_is_not_passed_to_the_lead() -> None:
    yard = Yard([refuel(0, who="Mara")])
    assert [action.prompt for action in yard.run(300)] == ["refuel", "reminder"]


@pytest.mark.parametrize("words", ["got it", "on it", "yes", "ok", "will do", "👍", "👍🏽", "I'm on it, thanks",
                                   "yep on it", "yes got the barrel"])
def test_short_words_of_the_one_who_was_called_take_the_call(words: str) -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, words)
    standing, = yard.session.standing()
    assert standing.taken_by == "Tomos"
    said = yard.run(10)
    assert said == []
    assert [(action.prompt, action.who) for action in yard.run(300)] == [("reminder", "Tomos"), ("lead", "Mara")]


def test_the_lead_hears_of_a_call_that_was_taken_and_not_done_and_not_once_it_is() -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, "got it")
    passed = yard.run(300)[-1]
    assert passed.text.startswith("Mara: Tomos has this since 12:02 and has not said it is done.")
    done = Yard([refuel(0)])
    done.run(1)
    done.say(2, "got it")
    reminder, = done.run(18)
    done.say(19, "two on the barrel")
    assert reminder.prompt == "reminder"
    assert done.run(300) == []


def test_who_takes_a_call_after_the_reminder_has_as_long_as_who_took_it_before() -> None:
    yard = Yard([refuel(0)])
    reminder = yard.run(11)[-1]
    yard.say(12, "on it")
    passed, = yard.run(300)
    assert (reminder.prompt, passed.prompt) == ("reminder", "lead")
    assert passed.at == at(12) + TAKEN


def test_a_lead_who_took_a_call_is_reminded_and_not_told_of_it_besides() -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, "got it", "Mara")
    assert [(action.prompt, action.who) for action in yard.run(300)] == [("reminder", "Mara")]


def test_another_takes_a_call_in_plain_words_and_hears_of_it_in_the_place_of_the_first() -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, "got it", "Bea")
    standing, = yard.session.standing()
    assert standing.owner == "Bea"
    assert [(action.prompt, action.who) for action in yard.run(300)] == [("reminder", "Bea"), ("lead", "Mara")]


def test_a_third_person_says_who_has_it() -> None:
    yard = Yard([refuel(0, who="Idris")])
    yard.run(1)
    yard.say(2, "Tomos got it", "Bea")
    assert yard.session.standing()[0].taken_by == "Tomos"


@pytest.mark.parametrize("words", ["yes", "ok", "👍", "lovely", "got it wrong again", "has anyone got it on video"])
def test_words_that_may_be_about_anything_take_nothing_that_was_asked_of_another(words: str) -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, words, "Bea")
    assert yard.session.standing()[0].taken_by is None


def test_got_it_long_after_a_call_to_another_takes_nothing() -> None:
    yard = Yard([out(0)])
    yard.run(1)
    yard.say(40, "got it", "Bea")
    assert yard.session.standing()[0].taken_by is None


def test_a_reply_takes_the_call_it_replies_to_and_no_other() -> None:
    yard = Yard([refuel(0), out(6)])
    first, second = yard.run(6)
    assert (first.prompt, second.prompt) == ("refuel", "serve")
    yard.say(7, "got it", "Bea", reply_to=first.id)
    taken = {each.call.kind: each.taken_by for each in yard.session.standing()}
    assert taken == {"refuel": "Bea", "serve": None}


def test_the_same_words_are_not_said_twice_in_ten_minutes() -> None:
    first, reminder = Yard([refuel(0)]).run(60)[:2]
    assert reminder.prompt == "reminder"
    assert reminder.at - first.at >= timedelta(minutes=10)


def test_a_reply_to_a_reminder_is_about_its_call() -> None:
    yard = Yard([refuel(0)])
    _, reminder = yard.run(11)
    yard.say(12, "on it", reply_to=reminder.id)
    assert yard.session.standing()[0].taken_by == "Tomos"


def test_a_reply_to_a_persons_message_takes_nothing() -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, "got it", reply_to="m1")
    assert yard.session.standing()[0].taken_by is None


def test_done_to_a_call_for_wood_is_heard_as_a_feed_of_that_oven() -> None:
    yard = Yard([refuel(0)])
    call, = yard.run(1)
    answer = yard.say(2, "done", reply_to=call.id)
    fact, = answer.heard.facts
    assert (fact.is_, fact.act, fact.oven) == ("fire", "fed", "barrel")
    assert open_keys(yard) == []


def test_a_reply_need_not_name_its_oven_or_its_dish() -> None:
    yard = Yard([refuel(0), out(6)])
    wood, pot = yard.run(6)
    assert yard.say(7, "2 on", "Bea", reply_to=wood.id).heard.facts[0].oven == "barrel"
    assert yard.say(8, "pot out", "Bea", reply_to=pot.id).heard.facts[0].dish == "lamb"


def test_a_refusal_goes_straight_to_the_lead_and_is_not_reminded() -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, "can't, hands full")
    said = yard.run(300)
    assert [(action.prompt, action.who, action.at) for action in said] == [("lead", "Mara", at(2))]


def test_a_feed_taken_back_opens_the_call_again() -> None:
    yard = Yard([refuel(0)])
    yard.run(1)
    yard.say(2, "two on the barrel", id="fed")
    assert open_keys(yard) == []
    yard.say(3, "", removes="fed")
    assert open_keys(yard) == ["refuel:barrel:0"]


def test_who_has_the_oven_has_not_taken_what_is_asked_of_a_pot_in_it() -> None:
    yard = Yard([out(0)])
    yard.run(1)
    yard.say(2, "I've got the dome", "Bea")
    assert yard.session.standing()[0].taken_by is None
    yard.say(3, "I've got the lamb", "Bea")
    assert yard.session.standing()[0].taken_by == "Bea"


def test_food_that_has_long_is_not_called_for_every_ten_minutes() -> None:
    """One reminder and one word to the lead, at a third of the time that there is and no sooner."""
    chill = Prompt("safety", "safety:chill:1:goat", at(0), "Tomos: goat chill is behind: below 8 wanted by 13:30.",
                   None, "goat", "Tomos", at(90), urgent=True, act="goat, shallower, on ice")
    said = Yard([chill]).run(300)
    assert [action.prompt for action in said] == ["safety", "reminder", "lead"]
    assert said[1].at - said[0].at >= timedelta(minutes=20)
    assert said[2].at < at(90)


def late_refuel(minutes: float, late: str = "barrel, one split now. Air 140 at 12:00, under 150.") -> Prompt:
    return replace(refuel(minutes), act_at=at(minutes + 10), late=late)


def test_after_its_own_time_a_call_says_what_is_true_now() -> None:
    yard = Yard([late_refuel(0)])
    call, reminder, lead = yard.run(300)
    assert "by 12:00" in call.text
    assert reminder.text == "Tomos: barrel, one split now. Air 140 at 12:00, under 150."
    assert reminder.at >= at(10)
    assert lead.text.endswith("\nBarrel, one split now. Air 140 at 12:00, under 150.")


def test_the_lead_hears_the_newest_heat_and_not_that_of_the_call() -> None:
    yard = Yard([late_refuel(0)])
    yard.run(1)
    newest = late_refuel(15, "barrel, two splits now. Air 120 at 12:15, under 150.")
    newer = put_off([newest], yard.session.calls, at(15))
    yard.session.live = {prompt.key: prompt for prompt in newer}
    assert yard.run(300)[-1].text.endswith("\nBarrel, two splits now. Air 120 at 12:15, under 150.")


def test_an_act_that_is_put_off_is_called_for_at_its_new_time_and_not_before() -> None:
    """Air read well above the mark five minutes after the call: the split is wanted an hour later."""
    yard = Yard([late_refuel(0)])
    yard.run(1)
    later = put_off([late_refuel(60)], yard.session.calls, at(5))
    yard.session.live = {prompt.key: prompt for prompt in later}
    yard.plan = later
    assert yard.session.standing() == ()
    assert [(action.prompt, action.at) for action in yard.run(65)] == [("refuel", at(60))]
    # Wanted at once, and asked for already: the call goes on.
    again = put_off([late_refuel(62)], yard.session.calls, at(62))
    assert again[0].key == yard.session.calls[-1].key
