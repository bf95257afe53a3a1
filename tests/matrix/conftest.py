from __future__ import annotations

import itertools

import pytest

from tests.matrix.bots import Bot, config_for
from tests.matrix.people import Person
from tests.matrix.server import Synapse

_names = itertools.count(1)


@pytest.fixture(scope="session")
def synapse(tmp_path_factory):
    server = Synapse(tmp_path_factory.mktemp("synapse"))
    server.start()
    for name in ("mara", "idris", "tomos"):
        server.user(name)
    server.user("head", admin=True)
    yield server
    server.stop()


def _person(name, synapse, tmp_path_factory):
    person = Person(synapse.url, f"@{name}:kitchen.test", name, tmp_path_factory.mktemp(name))
    yield person
    person.close()


@pytest.fixture(scope="session")
def mara(synapse, tmp_path_factory):
    """Leads; is on the bot's list."""
    yield from _person("mara", synapse, tmp_path_factory)


@pytest.fixture(scope="session")
def tomos(synapse, tmp_path_factory):
    """Feeds the barrel; is on the bot's list."""
    yield from _person("tomos", synapse, tmp_path_factory)


@pytest.fixture(scope="session")
def idris(synapse, tmp_path_factory):
    """Is on nobody's list."""
    yield from _person("idris", synapse, tmp_path_factory)


def _account(synapse):
    name = f"yardhand{next(_names)}"
    synapse.user(name)
    return name


@pytest.fixture
def account(synapse):
    """A bot account of the test's own, whose name is its password."""
    return _account(synapse)


@pytest.fixture(scope="module")
def bot(synapse, tmp_path_factory):
    """A bot that a module's tests share; each has a room of its own."""
    account = _account(synapse)
    config = config_for(synapse.url, user=f"@{account}:kitchen.test",
                        people=["@mara:kitchen.test", "@tomos:kitchen.test"])
    with Bot(config, tmp_path_factory.mktemp("bot"), password=account) as running:
        yield running


@pytest.fixture
def room(bot, mara):
    made = mara.room(bot.config.matrix.user)
    mara.joined(made, bot.config.matrix.user)
    return made
