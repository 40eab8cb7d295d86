"""A mail server that does as a test says (aiosmtpd, on a port of its own)."""

import asyncio
import logging
import threading

from aiosmtpd.smtp import SMTP, AuthResult

# Handshakes that fail are what tests provoke.
logging.getLogger("mail.log").setLevel(logging.CRITICAL)

USER, PASSWORD = b"pebble-bay", b"correct horse \xc3\xa9"


class Handler:
    """Keeps what it takes. `replies` are given instead of taking: by command,
    "MAIL", "RCPT" or "DATA", a line or something to do with the server."""

    def __init__(self, replies):
        self.replies = replies
        self.taken = []

    async def _reply(self, command, server):
        reply = self.replies.get(command)
        return await reply(server) if callable(reply) else reply

    async def handle_MAIL(self, server, session, envelope, address, options):
        reply = await self._reply("MAIL", server)
        if reply is None:
            envelope.mail_from = address
        return reply or "250 OK"

    async def handle_RCPT(self, server, session, envelope, address, options):
        reply = await self._reply("RCPT", server)
        if reply is None:
            envelope.rcpt_tos.append(address)
        return reply or "250 OK"

    async def handle_DATA(self, server, session, envelope):
        reply = await self._reply("DATA", server)
        if reply is None:
            self.taken.append((session, envelope))
        return reply or "250 OK"


async def drop(server):
    """Hangs up without a word."""
    server.transport.abort()
    return "421 gone"


async def hang(server):
    """Never answers."""
    await asyncio.Event().wait()


class MailServer:
    """Serves until close(). Without `tls` it offers no STARTTLS."""

    def __init__(self, tls, replies, login=False):
        self.handler = Handler(replies)
        self.logins = []
        self._settings = dict(
            hostname="mail.example", tls_context=tls,
            require_starttls=tls is not None, auth_required=login,
            authenticator=self._authenticate)
        self._loop = asyncio.new_event_loop()
        self._thread = threading.Thread(target=self._loop.run_forever)
        self._thread.start()
        self._server = asyncio.run_coroutine_threadsafe(
            self._listen(), self._loop).result()
        self.port = self._server.sockets[0].getsockname()[1]

    async def _listen(self):
        return await self._loop.create_server(
            lambda: SMTP(self.handler, loop=self._loop, **self._settings),
            "127.0.0.1", 0)

    def _authenticate(self, server, session, envelope, mechanism, data):
        self.logins.append((data.login, data.password))
        good = (data.login, data.password) == (USER, PASSWORD)
        return AuthResult(success=good, handled=False)

    def close(self):
        if self._loop.is_closed():
            return

        async def end():
            self._server.close()
            others = asyncio.all_tasks() - {asyncio.current_task()}
            for task in others:
                task.cancel()
            await asyncio.gather(*others, return_exceptions=True)
        asyncio.run_coroutine_threadsafe(end(), self._loop).result()
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join()
        self._loop.close()
