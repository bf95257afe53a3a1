from __future__ import annotations

import itertools

import pytest

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


@pytest.fixture(scope="session")
def mara(synapse, tmp_path_factory):
    person = Person(synapse.url, "@mara:kitchen.test", "mara", tmp_path_factory.mktemp("mara"))
    yield person
    person.close()


@pytest.fixture(scope="session")
def idris(synapse, tmp_path_factory):
    person = Person(synapse.url, "@idris:kitchen.test", "idris", tmp_path_factory.mktemp("idris"))
    yield person
    person.close()


@pytest.fixture
def account(synapse):
    """A bot account of the test's own, whose name is its password."""
    name = f"yardhand{next(_names)}"
    synapse.user(name)
    return name
