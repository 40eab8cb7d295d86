"""A server whose messages really leave: for a mail server that asks for
encryption and a login, and for an HTTPS receiver that checks signatures. Both
belong to the test."""

import base64
import email
import email.policy
import json
import os
import pathlib
import shutil
import ssl
import subprocess
import sys
import tempfile

from google.protobuf import duration_pb2

from harness import ROOT, SystemTest, phq9, until
from turnstone.v1 import delivery_pb2, service_pb2

sys.path.append(ROOT + "/tests/deliver")
# pylint: disable=wrong-import-position
from certificates import Authority
from hook_server import HookServer
from mail_server import PASSWORD, USER, MailServer
from signatures import verify

SECRET = bytes(range(40))
OWED, SENT, WITHDRAWN, GIVEN_UP = (
    delivery_pb2.MESSAGE_STATUS_OWED, delivery_pb2.MESSAGE_STATUS_SENT,
    delivery_pb2.MESSAGE_STATUS_WITHDRAWN,
    delivery_pb2.MESSAGE_STATUS_GIVEN_UP)

# Points 3, 3, 3, 3, 3, 0, 0, 0 and, of self-harm, 2: a total of 17.
POSITIVE = [3] * 5 + [0] * 3 + [2]


def keys(telling, *people):
    """The keys of one telling's messages. "m.rowan+" has a telephone, too."""
    every = set()
    for person in people:
        name = person.rstrip("+")
        every.add(f"{telling}/{name}/mail")
        if person != name:
            every.add(f"{telling}/{name}/duty-phone")
    return every


def read_mail(envelope):
    return email.message_from_bytes(envelope.content,
                                    policy=email.policy.default)


class MessagesTest(SystemTest):
    @classmethod
    def setUpClass(cls):
        folder = cls.enterClassContext(tempfile.TemporaryDirectory())
        cls.authority = Authority(folder + "/authority")
        cls.certificate = cls.authority.certify("localhost")

    def setUp(self):
        super().setUp()
        self.mail = MailServer(self.tls(), {}, login=True)
        self.addCleanup(self.mail.close)
        self.hook = HookServer(self.tls())
        self.addCleanup(self.hook.close)
        self.credentials = pathlib.Path(self.folder, "credentials")
        self.credentials.mkdir()
        self.put("ca", self.authority.pem.read_bytes())
        self.put("mail-password", PASSWORD + b"\n")
        self.put("duty-phone-secret", base64.b64encode(SECRET) + b"\n")
        self.config = self.folder + "/config"
        for folder in ("instruments", "packs"):
            shutil.copytree(f"{ROOT}/rules/{folder}",
                            f"{self.config}/{folder}")
        self.site = pathlib.Path(self.config, "sites/pebble-bay.textproto")
        self.site.parent.mkdir()
        self.configure()

    def tls(self):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(*self.certificate)
        return context

    def put(self, name, content):
        path = self.credentials / name
        path.write_bytes(content)
        path.chmod(0o600)

    def configure(self, telephone="200"):
        """The demonstration's site with our servers. `telephone`: what the
        receiver is to do, see hook_server.py."""
        self.url = f"https://localhost:{self.hook.port}/{telephone}"
        text = pathlib.Path(ROOT, "deploy/config/sites",
                            self.site.name).read_text(encoding="utf-8")
        for old, new in {
                '"mail.pebble-bay.example"': '"localhost"',
                "port: 587": f'port: {self.mail.port} ca_file: "ca"',
                'user: "alerts"': f'user: "{USER.decode()}"',
                '"https://duty-phone.pebble-bay.example/alerts"':
                    f'"{self.url}" ca_file: "ca"',
                # The messages counted here are those about alerts.
                "\nsign_of_life {": "\n# sign_of_life {"}.items():
            self.assertEqual(text.count(old), 1, old)
            text = text.replace(old, new)
        self.site.write_text(text, encoding="utf-8")

    def start(self, send=True):
        more = ["--credentials", str(self.credentials)]
        if send:
            more.append("--send")
        self.server = self.serve(config=[self.config], more=more)
        self.lead = self.server.client("m.rowan", "on-call-lead")
        self.addCleanup(self.lead.close)

    def submit(self, event, alert):
        intake = self.server.client("intake-1", "intake-system")
        answer = intake.submit(event)
        intake.close()
        self.assertEqual(list(answer.alert_id), [alert])

    def raise_alert(self, number=1):
        self.submit(phq9(f"canary-{number}", POSITIVE,
                         participant=f"canary-{number}"), f"A-{number}")

    def advance(self, seconds):
        self.lead.clock.AdvanceClock(service_pb2.AdvanceClockRequest(
            by=duration_pb2.Duration(seconds=seconds)), **self.lead.how)

    def turnstone(self, *words):
        done = subprocess.run(
            [os.environ["TURNSTONE"], "--server",
             f"127.0.0.1:{self.server.port}", "--as", "m.rowan,on-call-lead",
             *words], capture_output=True, text=True)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def outbox(self, *status):
        """What is in it, by key."""
        answer = self.lead.duties.ListOutbox(service_pb2.ListOutboxRequest(
            status=status or (OWED, SENT, WITHDRAWN, GIVEN_UP),
            page_size=500), **self.lead.how)
        return {message.key: message for message in answer.message}

    def mails(self):
        """Those that were taken."""
        return [read_mail(envelope)
                for _, envelope in self.mail.handler.taken]

    def mailed(self):
        """Who had how many: a name for each."""
        return sorted(envelope.rcpt_tos[0].partition("@")[0]
                      for _, envelope in self.mail.handler.taken)

    def events(self):
        """The CloudEvents that came, each with a signature that is good."""
        for _, headers, body in self.hook.requests:
            verify(SECRET, self.url, headers, body)
        return [json.loads(body) for _, _, body in self.hook.requests]

    def assertEnds(self, status, expected):
        """In the end nothing is owed, and exactly these ended so."""
        def nothing_is_owed():
            return not self.outbox(OWED)
        until(nothing_is_owed)
        self.assertEqual(set(self.outbox(status)), expected)

    def assertMailed(self, expected):
        self.assertEqual(self.mailed(), sorted(
            key.split("/")[2] for key in expected if key.endswith("/mail")))

    def assertTold(self, expected):
        """These came, each once, and nothing else."""
        self.assertMailed(expected)
        self.assertEqual(
            sorted(event["id"] for event in self.events()),
            sorted(key for key in expected if key.endswith("/duty-phone")))
