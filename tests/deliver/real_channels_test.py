"""The real transport against real servers: e-mail over SMTP, and webhooks over
HTTPS whose signature is checked by code of another hand. Nothing is ever sent
in clear, or to somebody who cannot prove who they are."""

import base64
import email
import email.policy
import json
import os
import pathlib
import socketserver
import ssl
import subprocess
import tempfile
import threading
import unittest
import warnings

from certificates import Authority
from hook_server import HookServer
from mail_server import PASSWORD, USER, MailServer, drop, hang
from signatures import verify

SECRET = bytes(range(40))
# For exchanges that are to end well, however slow the machine is; and for
# those that hang, and are to be given up.
PATIENT, IMPATIENT = 30000, 300
LENIENT_OPENSSL = """
openssl_conf = all
[all]
ssl_conf = ssl
[ssl]
system_default = lenient
[lenient]
MinProtocol = TLSv1
CipherString = ALL:@SECLEVEL=0
"""


class ChannelTest(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(folder.cleanup)
        cls.folder = pathlib.Path(folder.name)
        cls.authority = Authority(cls.folder / "authority")
        cls.stranger = Authority(cls.folder / "stranger")
        cls.credentials = cls.folder / "credentials"
        cls.credentials.mkdir()
        cls.put("ca", cls.authority.pem.read_bytes())
        cls.put("password", PASSWORD + b"\n")
        cls.put("wrong-password", b"wrong\n")
        cls.put("secret", base64.b64encode(SECRET) + b"\n")

    @classmethod
    def put(cls, name, content):
        path = cls.credentials / name
        path.write_bytes(content)
        path.chmod(0o600)

    def tls(self, authority=None, name="localhost", expired=False):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(
            *(authority or self.authority).certify(name, expired))
        return context

    def send(self, channel, timeout=PATIENT, environment=None):
        """The status that comes of it, e.g. "OK" or "UNAVAILABLE ..."."""
        envelope = {
            "key": "A-17/3/r.sorrel/mail",
            "address": "r.sorrel@team.example",
            "now": "2027-02-06T03:12:00Z",
            "channel": channel,
            "message": {
                "alertId": "A-17", "priority": "PRIORITY_STAT",
                "reason": "nobody has received it (rung 2)",
                "deadline": "2027-02-06T09:00:00Z",
                "owedSince": "2027-02-06T03:00:00Z",
            },
        }
        done = subprocess.run(
            [os.environ["DELIVER_SEND"], self.credentials, str(timeout)],
            input=json.dumps(envelope), capture_output=True, text=True,
            env={**os.environ, **(environment or {})})
        self.assertEqual(done.returncode, 0, done.stderr)
        for secret in (PASSWORD.decode(), "wrong\n",
                       base64.b64encode(SECRET).decode(), "r.sorrel@"):
            self.assertNotIn(secret, done.stdout)
        return done.stdout.strip()


class MailTest(ChannelTest):
    def serve(self, tls="good", login=False, **replies):
        server = MailServer(self.tls() if tls == "good" else tls, replies,
                            login)
        self.addCleanup(server.close)
        return server

    def mail(self, server, timeout=PATIENT, **more):
        return self.send({"id": "mail", "smtp": {
            "host": "localhost", "port": server.port,
            "from": "alerts@pebble-bay.example", "caFile": "ca", **more,
        }}, timeout)

    def test_arrives(self):
        server = self.serve()
        self.assertEqual(self.mail(server), "OK")
        (session, envelope), = server.handler.taken
        self.assertIsNotNone(session.ssl)
        self.assertEqual(envelope.mail_from, "alerts@pebble-bay.example")
        self.assertEqual(envelope.rcpt_tos, ["r.sorrel@team.example"])
        message = email.message_from_bytes(envelope.content,
                                           policy=email.policy.default)
        self.assertEqual(message.defects, [])
        self.assertEqual(message["Subject"],
                         "turnstone: alert A-17, priority stat")
        self.assertEqual(message["To"].addresses[0].addr_spec,
                         "r.sorrel@team.example")
        self.assertEqual(message["Date"].datetime.isoformat(),
                         "2027-02-06T03:12:00+00:00")
        self.assertIn("turnstone receive A-17\r\n", message.get_content())

    def test_repeat_has_the_same_message_id(self):
        server = self.serve()
        for _ in range(2):
            self.assertEqual(self.mail(server), "OK")
        ids = {email.message_from_bytes(envelope.content)["Message-ID"]
               for _, envelope in server.handler.taken}
        self.assertEqual(len(server.handler.taken), 2)
        self.assertEqual(len(ids), 1)

    def test_logs_in(self):
        server = self.serve(login=True)
        self.assertEqual(self.mail(server, user=USER.decode(),
                                   passwordFile="password"), "OK")
        self.assertEqual(server.logins, [(USER, PASSWORD)])
        self.assertEqual(len(server.handler.taken), 1)

    # RFC 5321 section 4.2.1: 4yz may be tried again, 5yz not.
    def test_refused_for_good(self):
        for command in ("MAIL", "RCPT", "DATA"):
            server = self.serve(**{command: "550 no <r.sorrel@team.example>"})
            self.assertRegex(self.mail(server), r"^INVALID_ARGUMENT .*\b550\b")
            self.assertEqual(server.handler.taken, [])

    def test_refused_for_now(self):
        for command in ("MAIL", "RCPT", "DATA"):
            server = self.serve(**{command: "451 busy"})
            self.assertRegex(self.mail(server), r"^UNAVAILABLE .*\b451\b")
            self.assertEqual(server.handler.taken, [])

    # What is wrong with the login is not the message's fault.
    def test_login_refused(self):
        server = self.serve(login=True)
        self.assertRegex(self.mail(server, user=USER.decode(),
                                   passwordFile="wrong-password"),
                         "^UNAVAILABLE .*password_file")
        self.assertEqual(server.logins[0], (USER, b"wrong"))
        self.assertRegex(self.mail(server), "^UNAVAILABLE .*530")
        for code in ("530", "534", "535", "538"):
            server = self.serve(RCPT=code + " first log in")
            self.assertRegex(self.mail(server), "^UNAVAILABLE .*" + code)

    def test_dropped_within_the_text(self):
        server = self.serve(DATA=drop)
        self.assertRegex(self.mail(server), "^UNAVAILABLE")

    def test_hangs(self):
        server = self.serve(DATA=hang)
        self.assertRegex(self.mail(server, IMPATIENT),
                         "^UNAVAILABLE .*in time")

    def test_greeting_refuses(self):
        class Greeter(socketserver.StreamRequestHandler):
            def handle(self):
                self.wfile.write(b"554 no service here\r\n")
                self.rfile.read()
        server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), Greeter)
        server.port = server.server_address[1]
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        for end in (server.server_close, thread.join, server.shutdown):
            self.addCleanup(end)  # the last one first
        self.assertRegex(self.mail(server), "^UNAVAILABLE")

    def test_nobody_there(self):
        server = self.serve()
        server.close()
        self.assertRegex(self.mail(server), "^UNAVAILABLE .*reached")

    def refuses_to_send(self, server, why, **more):
        self.assertRegex(self.mail(server, user=USER.decode(),
                                   passwordFile="password", **more), why)
        self.assertEqual(server.handler.taken, [])
        self.assertEqual(server.logins, [])

    def test_no_starttls(self):
        self.refuses_to_send(self.serve(tls=None), "^UNAVAILABLE .*STARTTLS")

    def test_certificate_of_another_authority(self):
        server = self.serve(self.tls(self.stranger))
        self.refuses_to_send(server, "^UNAVAILABLE .*certificate")
        # Trusting nobody in particular is no way around it.
        self.refuses_to_send(server, "^UNAVAILABLE .*certificate", caFile="")

    def test_certificate_expired(self):
        self.refuses_to_send(self.serve(self.tls(expired=True)),
                             "^UNAVAILABLE .*certificate")

    def test_certificate_for_another_name(self):
        self.refuses_to_send(self.serve(self.tls(name="else.example")),
                             "^UNAVAILABLE .*certificate")

    def test_ca_file_that_is_none(self):
        self.put("no-ca", b"not a certificate\n")
        self.refuses_to_send(self.serve(), "^UNAVAILABLE .*ca_file",
                             caFile="no-ca")


class WebhookTest(ChannelTest):
    def serve(self, tls=None):
        server = HookServer(tls or self.tls())
        self.addCleanup(server.close)
        return server

    def url(self, server, path):
        return f"https://localhost:{server.port}{path}"

    def post(self, server, path, timeout=PATIENT, environment=None, **more):
        return self.send({"id": "hook", "webhook": {
            "url": self.url(server, path), "keyId": "pebble-bay-2027",
            "secretFile": "secret", "caFile": "ca", **more,
        }}, timeout, environment)

    def test_arrives_signed(self):
        server = self.serve()
        self.assertEqual(self.post(server, "/200?team=a%20b"), "OK")
        (path, headers, body), = server.requests
        self.assertEqual(path, "/200?team=a%20b")
        self.assertEqual(headers["Content-Type"],
                         "application/cloudevents+json")
        names, parameters = verify(SECRET, self.url(server, path), headers,
                                   body)
        self.assertEqual(names, '"@method" "@target-uri" "content-digest" '
                         '"content-type"')
        # 2027-02-06T03:12:00Z, by `date -d ... +%s`.
        self.assertIn(';created=1801883520;keyid="pebble-bay-2027"'
                      ';alg="hmac-sha256"', parameters)
        event = json.loads(body)
        self.assertEqual(event["id"], "A-17/3/r.sorrel/mail")
        self.assertEqual(event["data"]["alerts"][0]["alertId"], "A-17")

    def test_repeat_has_the_same_identity(self):
        server = self.serve()
        for _ in range(2):
            self.assertEqual(self.post(server, "/200"), "OK")
        events = [json.loads(body) for _, _, body in server.requests]
        self.assertEqual(events[0], events[1])

    def test_answers(self):
        server = self.serve()
        for status in (200, 201, 202, 204):
            self.assertEqual(self.post(server, f"/{status}"), "OK")
        for status in (400, 410, 413, 415, 422):
            self.assertRegex(self.post(server, f"/{status}"),
                             f"^INVALID_ARGUMENT .*{status}")
        for status in (401, 403, 404, 408, 409, 429, 500, 502, 503, 504):
            self.assertRegex(self.post(server, f"/{status}"),
                             f"^UNAVAILABLE .*{status}")

    def test_redirect_is_not_followed(self):
        server = self.serve()
        self.assertRegex(self.post(server, "/redirect"), "^UNAVAILABLE .*302")
        self.assertEqual(len(server.requests), 1)

    def test_closes_without_an_answer(self):
        server = self.serve()
        self.assertRegex(self.post(server, "/close"), "^UNAVAILABLE")
        self.assertEqual(len(server.requests), 1)

    def test_hangs(self):
        self.assertRegex(self.post(self.serve(), "/hang", IMPATIENT),
                         "^UNAVAILABLE .*in time")

    def test_answer_without_end(self):
        self.assertEqual(self.post(self.serve(), "/endless"), "OK")

    def test_proxy_of_the_environment_is_not_used(self):
        server = self.serve()
        self.assertEqual(self.post(server, "/200", environment={
            "https_proxy": "http://127.0.0.1:1"}), "OK")

    def refuses_to_post(self, server, **more):
        self.assertRegex(self.post(server, "/200", **more), "^UNAVAILABLE")
        self.assertEqual(server.requests, [])

    def test_certificates(self):
        stranger = self.serve(self.tls(self.stranger))
        self.refuses_to_post(stranger)
        self.refuses_to_post(stranger, caFile="")
        self.refuses_to_post(self.serve(self.tls(expired=True)))
        self.refuses_to_post(self.serve(self.tls(name="else.example")))

    def test_tls_1_1(self):
        """Refused by us, even on a machine that would allow it."""
        tls = self.tls()
        tls.set_ciphers("ALL:@SECLEVEL=0")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)
            tls.minimum_version = ssl.TLSVersion.TLSv1
            tls.maximum_version = ssl.TLSVersion.TLSv1_1
        settings = self.folder / "lenient.cnf"
        settings.write_text(LENIENT_OPENSSL)
        self.refuses_to_post(self.serve(tls), environment={
            "OPENSSL_CONF": str(settings)})


del ChannelTest  # it has no tests of its own

if __name__ == "__main__":
    unittest.main()
