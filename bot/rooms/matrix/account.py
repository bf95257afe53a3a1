"""The bot's login: once by password, then by what that brought, kept in a file that only its owner can read.

Token, device and keys belong together. Where they are lost, the old device is logged out and a new one begins.
"""
from __future__ import annotations

import json
import os
import secrets
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from nio import AsyncClient, LoginError, LoginResponse

from bot.config import Config

FILE_NAME = "matrix-login.json"
PASSWORD = "YARDHAND_PASSWORD"
TOKEN, DEVICE, PICKLE = "YARDHAND_ACCESS_TOKEN", "YARDHAND_DEVICE_ID", "YARDHAND_KEY_SECRET"


class AccountError(Exception):
    """The bot cannot log in; the text says why and what to do, in one line."""


@dataclass(frozen=True)
class Login:
    """What a login brought. pickle_key: under which the encryption keys are kept."""
    user_id: str
    device_id: str
    access_token: str
    pickle_key: str

    def __repr__(self) -> str:
        """Without its secrets: a login may stand in a traceback."""
        return f"Login({self.user_id}, {self.device_id})"


def kept(folder: Path) -> Login | None:
    """The login kept in a data folder."""
    path = folder / FILE_NAME
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return None
    except OSError as error:
        raise AccountError(f"{path} cannot be read ({error.strerror}): see that it belongs to this user") from error
    try:
        return Login(**json.loads(text))
    except (ValueError, TypeError) as error:
        raise AccountError(f"{path} is damaged: move it away, set {PASSWORD} and start again") from error


def keep(folder: Path, login: Login) -> None:
    """Write the login so that a kill leaves the old file or the new one."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    new = folder / f".{FILE_NAME}.new"
    with os.fdopen(os.open(new, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600), "w", encoding="utf-8") as out:
        json.dump(asdict(login), out)
        out.flush()
        os.fsync(out.fileno())
    new.replace(folder / FILE_NAME)


async def login_for(config: Config, folder: Path, environment: Mapping[str, str]) -> Login:
    """The login to use: from the environment, from the folder, or a first one by password."""
    token, device = environment.get(TOKEN), environment.get(DEVICE)
    before = kept(folder)
    if before is not None and before.user_id != config.matrix.user:
        raise AccountError(f"{folder / FILE_NAME} is the login of {before.user_id}, not of {config.matrix.user}: "
                           "name another data folder in the file")
    secret = environment.get(PICKLE) or (before.pickle_key if before is not None else secrets.token_urlsafe(32))
    if token and device:
        if config.matrix.encryption and before is None and not environment.get(PICKLE):
            raise AccountError(f"{TOKEN} is set without {PICKLE}: set it to a long random text, the same at each "
                               "start, under which the encryption keys are kept")
        return Login(config.matrix.user, device, token, secret)
    if token:
        raise AccountError(f"{TOKEN} is set without {DEVICE}: set both, as one login gave them")
    if before is not None:
        return Login(before.user_id, before.device_id, before.access_token, secret)
    password = environment.get(PASSWORD)
    if not password:
        raise AccountError(f"no login is kept in {folder}: set {PASSWORD} for the first start only")
    login = await _first_login(config, password, secret)
    keep(folder, login)
    return login


async def _first_login(config: Config, password: str, secret: str) -> Login:
    client = AsyncClient(config.matrix.homeserver, config.matrix.user)
    try:
        answer = await client.login(password, device_name=config.matrix.device_name)
        if isinstance(answer, LoginError):
            raise AccountError(f"{config.matrix.homeserver} does not let {config.matrix.user} in "
                               f"({answer.message or answer.status_code}): see user and password")
        assert isinstance(answer, LoginResponse)
        return Login(answer.user_id, answer.device_id, answer.access_token, secret)
    finally:
        await client.close()
