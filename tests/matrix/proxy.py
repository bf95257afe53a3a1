"""A server between the bot and Synapse that does what networks do: twice, out of order, late, never."""
from __future__ import annotations

import asyncio
import json
import threading

from aiohttp import ClientSession, ClientTimeout, web


class Proxy:
    """with Proxy(url) as proxy: ... ; `change` alters the JSON of each sync, `refuse` gives some requests a status."""

    def __init__(self, target):
        self._target = target
        self.change = lambda body: body
        self.refuse = lambda _method, _path: None
        self.date = None
        self.requests = []
        self._ready = threading.Event()

    def __enter__(self):
        self._thread = threading.Thread(target=lambda: asyncio.run(self._run()), daemon=True)
        self._thread.start()
        assert self._ready.wait(10)
        return self

    def __exit__(self, *_):
        self._loop.call_soon_threadsafe(self._end.set)
        self._thread.join(10)

    async def _run(self):
        self._loop = asyncio.get_running_loop()
        self._end = asyncio.Event()
        async with ClientSession(timeout=ClientTimeout(total=None), auto_decompress=True) as self._session:
            app = web.Application(client_max_size=2**26)
            app.router.add_route("*", "/{path:.*}", self._handle)
            runner = web.AppRunner(app, shutdown_timeout=0.1)
            await runner.setup()
            site = web.TCPSite(runner, "127.0.0.1", 0)
            await site.start()
            self.url = f"http://127.0.0.1:{site._server.sockets[0].getsockname()[1]}"
            self._ready.set()
            await self._end.wait()
            await runner.cleanup()

    async def _handle(self, request):
        self.requests.append((request.method, request.path))
        status = self.refuse(request.method, request.path)
        if status is not None:
            return web.Response(status=status, text="no")
        headers = {key: value for key, value in request.headers.items()
                   if key.lower() not in ("host", "content-length", "accept-encoding")}
        async with self._session.request(request.method, self._target + request.raw_path, headers=headers,
                                         data=await request.read()) as answer:
            body = await answer.read()
            if request.path.endswith("/sync") and answer.status == 200:
                body = json.dumps(self.change(json.loads(body))).encode()
            more = {"Date": self.date} if self.date is not None else {}
            return web.Response(status=answer.status, body=body, content_type="application/json", headers=more)
