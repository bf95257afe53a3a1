"""Tasks that are to end. A cancel can be lost on its way (a library takes it for its own time limit, or an answer comes
in the same moment), and who waits for that task waits for ever: so it is cancelled again until it has ended.
"""
from __future__ import annotations

import asyncio
from typing import Any

# Between two cancels of a task that has not ended [s].
AGAIN_S = 0.5


async def end(*tasks: asyncio.Task[Any]) -> None:
    """Cancel tasks and wait until each has ended, however it ends."""
    pending = {task for task in tasks if not task.done()}
    while pending:
        for task in pending:
            task.cancel()
        _, pending = await asyncio.wait(pending, timeout=AGAIN_S)
    await asyncio.gather(*tasks, return_exceptions=True)
