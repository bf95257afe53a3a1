"""The real engine in the real room: a reaction takes a prompt, the board says so, an edit re-tells the reading."""
from __future__ import annotations

import time

import pytest

from bot.rooms.house import engine
from tests.matrix.bots import Bot, config_for
from tests.matrix.looks import is_edit, log, notice, recorded


@pytest.mark.slow
def test_a_reaction_takes_the_real_prompt_and_the_pinned_board_follows(synapse, account, mara, tomos, tmp_path):
    config = config_for(synapse.url, user=f"@{account}:kitchen.test")
    with Bot(config, tmp_path, password=account, make=engine):
        room = mara.room(config.matrix.user, tomos.user)
        mara.joined(room, config.matrix.user)
        tomos.join(room)
        said = [mara.say(room, text) for text in (
            "class: shoulder, 12 guests", "the dome is 90 across, floor brick 6 cm", "lit the dome, 4 splits")]
        said.append(tomos.say(room, "shut the dome door"))
        prompt = mara.until(room, lambda event: getattr(event, "body", "").startswith("Tomos: door on a live fire"), 90)
        assert prompt.source["content"]["m.mentions"] == {"user_ids": [tomos.user]}
        mara.until(room, lambda event: getattr(event, "body", "").startswith("Shoulder, 12 guests, as of"), 30)
        said.append(tomos.react(room, prompt.event_id, "🙋"))
        said.append(tomos.say(room, "dome floor 120"))
        reading = said[-1]
        said.append(tomos.edit(room, reading, "dome floor 140"))
        mara.until(room, notice("Changed: dome floor 140"), 30)
        until = time.monotonic() + 20
        while set(said) - set(recorded(tmp_path, room)) and time.monotonic() < until:
            time.sleep(0.1)
        assert recorded(tmp_path, room) == said
        answer = next(line for line in log(tmp_path, room) if getattr(line, "message", None) is not None
                      and line.message.id == said[4])
        assert answer.message.reply_to is not None
        assert answer.message.sender == "Tomos"
        mara.until(room, lambda event: is_edit(event) and "Tomos has it" in event.body, 30)
