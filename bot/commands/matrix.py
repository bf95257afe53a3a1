"""The room on a Matrix server, and which of its events are kept."""
from __future__ import annotations

import argparse
import logging
import os
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bot.commands.common import Commands, UsageError, folder_of, say, store_of

if TYPE_CHECKING:
    from bot.config import Config

# The models must not keep the loop waiting for its turn [s].
SWITCH_S = 0.001


def add(commands: Commands) -> None:
    matrix = commands.add_parser("matrix", help="a room for the whole team on a Matrix server", description=(
        "Follows one class in each room that it is asked into. The README tells how to get there. Stop it with Ctrl-C "
        "or SIGTERM; it goes on where it was."))
    matrix.add_argument("--config", required=True, metavar="FILE", help="yardhand.toml, as in the README")
    matrix.add_argument("--data", metavar="DIR", help="the folder of the kept classes (default: as the file says)")
    matrix.add_argument("--check", action="store_true", help="only check the file")
    matrix.add_argument("--verbose", action="store_true", help="say more of what happens")
    matrix.set_defaults(run=_matrix)


def add_events(log: argparse.ArgumentParser) -> None:
    """The options of `yardhand log` that concern a room instead of a class."""
    log.add_argument("--room", metavar="ROOM", help="a room, by its id on the server or its name here")
    log.add_argument("--events", action="store_true", help="the ids of the room's events that were recorded")
    log.add_argument("--config", metavar="FILE", help="take the data folder that this file names")


def events(options: argparse.Namespace) -> int:
    """One id a line, in the order in which they came."""
    if not options.room:
        raise UsageError("--events needs the room: write --room '!id:server' or --room room-1")
    with store_of(data_folder(options, _config(options.config) if options.config else None), shared=True) as store:
        known = store.rooms()
        room = known.get(options.room, options.room)
        if room not in known.values():
            names = ", ".join(sorted(set(known.values()))) or "none yet"
            raise UsageError(f"no room is called {options.room!r} in {store.path.parent}; there are: {names}")
        for each in store.message_ids(room):
            say(each)
    return 0


def data_folder(options: argparse.Namespace, config: Config | None) -> Path:
    """Where the talk is kept: as the command says, else as the file does, else in the user's data folder."""
    if options.data or config is None or config.matrix.data is None:
        return folder_of(options)
    return Path(options.config).resolve().parent / config.matrix.data


def _config(name: str) -> Config:
    from bot.config import ConfigError, read_config

    try:
        return read_config(Path(name))
    except ConfigError as error:
        faults = str(error).split("\n")
        for fault in faults[:-1]:
            print(f"yardhand: {fault}", file=sys.stderr)
        raise UsageError(faults[-1]) from error


def _matrix(options: argparse.Namespace) -> int:
    import asyncio

    config = _config(options.config)
    if options.check:
        say(f"{options.config} can be used")
        return 0
    # Keys, tokens and talk are for their owner alone, whoever writes them.
    os.umask(0o077)
    folder = data_folder(options, config)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    logging.basicConfig(level=logging.INFO if options.verbose else logging.WARNING, stream=sys.stderr,
                        format="%(asctime)s %(name)s %(levelname)s %(message)s")
    # The library tells whole events when it finds one that it does not understand.
    for name in ("nio.responses", "nio.events.misc", "nio.events"):
        logging.getLogger(name).setLevel(logging.ERROR)
    sys.setswitchinterval(SWITCH_S)
    return asyncio.run(_run(config, folder))


async def _run(config: Config, folder: Path) -> int:
    import asyncio

    from bot.rooms.matrix.account import AccountError
    from bot.rooms.matrix.service import Service

    service = Service(config, folder)
    loop = asyncio.get_running_loop()
    for each in (signal.SIGTERM, signal.SIGINT):
        loop.add_signal_handler(each, service.stop)
    say(f"yardhand is {config.matrix.user} on {config.matrix.homeserver}; what is said is kept in {folder}")
    try:
        await service.run()
    except AccountError as error:
        raise UsageError(str(error)) from error
    if not service.clean:
        # A step of the models takes long; everything is kept, so nothing is lost by not waiting for it.
        sys.stdout.flush()
        os._exit(0)
    say("yardhand has stopped")
    return 0
