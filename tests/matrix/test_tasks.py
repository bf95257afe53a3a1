"""A bot that is told to stop stops, whatever its tasks make of a cancel."""
from __future__ import annotations

import asyncio

import pytest

from bot.rooms.matrix.tasks import end


def run(call, within_s=30):
    return asyncio.run(asyncio.wait_for(call, within_s))


def test_a_task_that_loses_a_cancel_is_cancelled_again():
    lost = []

    async def deaf():
        while len(lost) < 2:
            try:
                await asyncio.sleep(60)
            except asyncio.CancelledError:
                lost.append(1)
        await asyncio.sleep(60)

    async def whole():
        task = asyncio.create_task(deaf())
        await asyncio.sleep(0)
        await end(task)
        return task.cancelled()

    assert run(whole())
    assert len(lost) == 2


def test_tasks_that_failed_or_are_done_need_no_second_word():
    async def fails():
        raise OSError("disk")

    async def whole():
        tasks = [asyncio.create_task(fails()), asyncio.create_task(asyncio.sleep(0)),
                 asyncio.create_task(asyncio.sleep(60))]
        await asyncio.sleep(0.01)
        await end(*tasks)
        await end()
        return [task.done() for task in tasks]

    assert run(whole()) == [True, True, True]


@pytest.mark.parametrize("turns", range(4))
def test_news_in_the_moment_of_the_stop_does_not_keep_a_waiting_task(turns):
    """The interpreter's wait_for takes the news and forgets the cancel; a time limit of its own kind does not."""
    async def waits(event):
        while True:
            try:
                async with asyncio.timeout(60):
                    await event.wait()
            except TimeoutError:
                pass
            event.clear()

    async def whole():
        event = asyncio.Event()
        task = asyncio.create_task(waits(event))
        for _ in range(3):
            await asyncio.sleep(0)
        event.set()
        for _ in range(turns):
            await asyncio.sleep(0)
        task.cancel()
        done, _ = await asyncio.wait([task], timeout=5)
        return bool(done)

    assert run(whole())
