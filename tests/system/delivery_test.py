"""Messages all the way: the real server, a mail server that asks for
encryption and a login, and an HTTPS receiver that checks signatures.

Who is told what, and when, is in deploy/config/sites/pebble-bay.textproto.
From Monday 29 December 2025 on the two leads take turns by the week; 4 January
2027 is 53 weeks later, so it is the second one's, m.rowan's.
"""

import asyncio
import base64
import email
import email.policy
import json
import os
import pathlib
import re
import shutil
import signal
import ssl
import subprocess
import sys
import tempfile
import time
import unittest

from google.protobuf import duration_pb2

from harness import DEADLINE, ROOT, SystemTest, phq9

sys.path.append(ROOT + "/tests/deliver")
# pylint: disable=wrong-import-position
from certificates import Authority
from hook_server import HookServer
from mail_server import PASSWORD, USER, MailServer
from signatures import verify
from turnstone.v1 import delivery_pb2, service_pb2

SECRET = bytes(range(40))
SITE = "pebble-bay.textproto"
OWED, SENT, WITHDRAWN, GIVEN_UP = (
    delivery_pb2.MESSAGE_STATUS_OWED, delivery_pb2.MESSAGE_STATUS_SENT,
    delivery_pb2.MESSAGE_STATUS_WITHDRAWN,
    delivery_pb2.MESSAGE_STATUS_GIVEN_UP)
MINUTE, HOUR = 60, 3600

# Points 3, 3, 3, 3, 3, 0, 0, 0 and, of self-harm, 2: a total of 17.
POSITIVE = [3] * 5 + [0] * 3 + [2]


def ways(telling, *people):
    """Keys of one telling: "m.rowan+" has a telephone, too."""
    keys = set()
    for person in people:
        name = person.rstrip("+")
        keys.add(f"{telling}/{name}/mail")
        if person != name:
            keys.add(f"{telling}/{name}/duty-phone")
    return keys


RUNG_1 = ways("A-1/1", "r.sorrel", "a.fennel", "m.rowan+")
RUNG_2 = ways("A-1/2", "t.linnet+", "m.rowan+")
RUNG_3 = ways("A-1/3", "t.linnet+", "m.rowan+", "j.alder+")


def until(probe):
    """What `probe` returns, once it is true."""
    last = time.monotonic() + DEADLINE
    while True:
        found = probe()
        if found:
            return found
        if time.monotonic() > last:
            raise AssertionError(f"waited in vain for {probe.__name__}")
        time.sleep(0.02)


class DeliveryTest(SystemTest):
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
        self.credentials = pathlib.Path(self.folder) / "credentials"
        self.credentials.mkdir()
        self.put("ca", self.authority.pem.read_bytes())
        self.put("mail-password", PASSWORD + b"\n")
        self.put("duty-phone-secret", base64.b64encode(SECRET) + b"\n")
        self.config = self.folder + "/config"
        shutil.copytree(ROOT + "/rules/instruments",
                        self.config + "/instruments")
        shutil.copytree(ROOT + "/rules/packs", self.config + "/packs")
        os.mkdir(self.config + "/sites")
        self.configure()

    def tls(self):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(*self.certificate)
        return context

    def put(self, name, content):
        path = self.credentials / name
        path.write_bytes(content)
        path.chmod(0o600)

    def configure(self, hook_answers="200"):
        """The demonstration's site, with our servers."""
        self.url = f"https://localhost:{self.hook.port}/{hook_answers}"
        text = pathlib.Path(ROOT, "deploy/config/sites", SITE).read_text()
        for old, new in {
                '"mail.pebble-bay.example"': '"localhost"',
                "port: 587": f'port: {self.mail.port} ca_file: "ca"',
                'user: "alerts"': f'user: "{USER.decode()}"',
                '"https://duty-phone.pebble-bay.example/alerts"':
                    f'"{self.url}" ca_file: "ca"'}.items():
            self.assertEqual(text.count(old), 1, old)
            text = text.replace(old, new)
        pathlib.Path(self.config, "sites", SITE).write_text(text)

    def start(self, send=True):
        self.server = self.serve(
            config=[self.config],
            more=["--credentials", str(self.credentials),
                  *(["--send"] if send else [])])
        self.lead = self.server.client("m.rowan", "on-call-lead")
        self.addCleanup(self.lead.close)

    def submit(self, event):
        intake = self.server.client()
        answer = intake.submit(event)
        intake.close()
        return answer

    def raise_alert(self, number=1):
        answer = self.submit(phq9(f"canary-{number}", POSITIVE,
                                  participant=f"canary-{number}"))
        self.assertEqual(list(answer.alert_id), [f"A-{number}"])

    def advance(self, seconds):
        self.lead.clock.AdvanceClock(service_pb2.AdvanceClockRequest(
            by=duration_pb2.Duration(seconds=seconds)), **self.lead.how)

    def outbox(self, *status):
        """What is in it, by key."""
        answer = self.lead.duties.ListOutbox(service_pb2.ListOutboxRequest(
            status=status or (OWED, SENT, WITHDRAWN, GIVEN_UP),
            page_size=500), **self.lead.how)
        return {message.key: message for message in answer.message}

    def until_ended(self, status, keys):
        """Waits until exactly those have ended so, and nothing is owed."""
        def nothing_owed():
            return not self.outbox(OWED)
        until(nothing_owed)
        self.assertEqual(set(self.outbox(status)), keys)

    def mails(self):
        """(recipient, message) of each that was taken."""
        return [(envelope.rcpt_tos[0].partition("@")[0],
                 email.message_from_bytes(envelope.content,
                                          policy=email.policy.default))
                for _, envelope in self.mail.handler.taken]

    def mailed(self):
        return sorted(person for person, _ in self.mails())

    def events(self):
        """The CloudEvents that came, each with a signature that is good."""
        for _, headers, body in self.hook.requests:
            verify(SECRET, self.url, headers, body)
        return [json.loads(body) for _, _, body in self.hook.requests]

    def rung(self, key):
        """Those who had this telling by mail, once each."""
        return sorted(k.split("/")[2] for k in key if k.endswith("/mail"))

    def telephoned(self):
        return sorted(event["id"] for event in self.events())

    def assertTold(self, *tellings):
        """These, each message once, and nothing else."""
        keys = set().union(*tellings)
        self.assertEqual(self.mailed(), self.rung(keys))
        self.assertEqual(self.telephoned(),
                         sorted(k for k in keys if k.endswith("/duty-phone")))

    def test_everybody_on_the_first_rung_is_told_and_of_nothing_else(self):
        self.start()
        self.raise_alert()
        self.until_ended(SENT, RUNG_1)
        self.assertTold(RUNG_1)
        self.assertEqual(set(self.mail.logins), {(USER, PASSWORD)})
        event, = self.events()
        self.assertEqual(event["data"]["person"], "m.rowan")
        self.assertEqual(event["data"]["alerts"][0]["alertId"], "A-1")
        # Base64 of digests may hold anything.
        (_, headers, body), = self.hook.requests
        del headers["Signature"], headers["Content-Digest"]
        texts = [str(headers.items()) + body.decode()]
        for session, _ in self.mail.handler.taken:
            self.assertIsNotNone(session.ssl)
        for _, mail in self.mails():
            self.assertIn("A-1", mail["Subject"])
            self.assertIn("stat", mail["Subject"])
            texts.append(str(mail.items()) + mail.get_content())
        self.assertEqual(len(texts), 4)
        for text in texts:
            self.assertNotRegex(
                text, r"(?i)canary|\b17\b|44260-8|LA6570-1|phq|safety|harm")

    def test_the_next_rung_is_told_until_somebody_has_it(self):
        self.start()
        self.raise_alert()
        self.until_ended(SENT, RUNG_1)
        self.advance(15 * MINUTE)
        self.until_ended(SENT, RUNG_1 | RUNG_2)
        self.assertTold(RUNG_1, RUNG_2)
        self.lead.work("A-1", receive=service_pb2.Receive())
        # Short of the four hours after which the holder is asked.
        self.advance(3 * HOUR)
        self.until_ended(SENT, RUNG_1 | RUNG_2)
        self.assertTold(RUNG_1, RUNG_2)

    def test_what_is_still_owed_is_withdrawn_when_somebody_has_it(self):
        self.mail.handler.replies["MAIL"] = "451 later"
        self.start()
        self.raise_alert()

        def telephoned_and_all_mail_tried():
            box = self.outbox()
            return (set(self.outbox(SENT)) == ways("A-1/1", "m.rowan+")
                    - ways("A-1/1", "m.rowan")
                    and all(m.attempts for m in box.values()))
        until(telephoned_and_all_mail_tried)
        self.lead.work("A-1", receive=service_pb2.Receive())
        self.assertEqual(
            set(self.outbox(WITHDRAWN)),
            ways("A-1/1", "r.sorrel", "a.fennel", "m.rowan"))
        self.mail.handler.replies.clear()
        self.advance(10 * MINUTE)
        self.raise_alert(2)
        second = ways("A-2/1", "r.sorrel", "a.fennel", "m.rowan+")
        self.until_ended(SENT, second | {"A-1/1/m.rowan/duty-phone"})
        self.assertEqual(self.mailed(), self.rung(second))
        for _, mail in self.mails():
            self.assertIn("A-2", mail["Subject"])

    def test_killed_while_mail_is_owed(self):
        self.mail.handler.replies["MAIL"] = "451 later"
        self.start()
        self.raise_alert()
        self.server.kill()
        self.mail.handler.replies.clear()
        self.start()
        self.advance(10 * MINUTE)
        self.until_ended(SENT, RUNG_1)
        self.assertEqual(self.mailed(), self.rung(RUNG_1))
        self.assertEqual(set(self.telephoned()),
                         {"A-1/1/m.rowan/duty-phone"})

    def test_killed_before_it_heard_that_a_message_was_taken(self):
        taken = []

        async def take_and_say_nothing(server):
            taken.append(email.message_from_bytes(
                server.envelope.content, policy=email.policy.default))
            await asyncio.Event().wait()
        self.mail.handler.replies["DATA"] = take_and_say_nothing
        self.configure(hook_answers="hang")
        self.start()
        self.raise_alert()

        def both_taken():
            return taken and self.hook.requests
        until(both_taken)
        first, = self.events()
        self.server.kill()
        self.mail.handler.replies.clear()
        self.hook.requests.clear()
        self.configure()
        self.start()
        self.until_ended(SENT, RUNG_1)
        self.assertTold(RUNG_1)
        self.assertEqual(self.events(), [first])
        ids = {mail["To"]: mail["Message-ID"] for _, mail in self.mails()}
        self.assertEqual(len(set(ids.values())), 3)
        self.assertEqual(ids[taken[0]["To"]], taken[0]["Message-ID"])

    def test_whom_no_message_reaches_the_next_is_told_at_once(self):
        self.mail.handler.replies["RCPT"] = "550 nobody of that name"
        self.configure(hook_answers="422")
        self.start()
        self.raise_alert()
        self.until_ended(GIVEN_UP, RUNG_1 | RUNG_2 | RUNG_3)
        for message in self.outbox(GIVEN_UP).values():
            said = "422" if message.channel == "duty-phone" else "550"
            self.assertIn(said, message.last_error)
        alert, = self.lead.list().alert
        self.assertEqual(alert.escalation.tellings, 3)
        # It serves, and goes on telling once it can.
        self.mail.handler.replies.clear()
        self.advance(30 * MINUTE)
        self.assertEqual(self.outbox(WITHDRAWN), {})

        def repeated():
            return set(self.outbox(SENT)) == ways(
                "A-1/4", "t.linnet", "m.rowan", "j.alder")
        until(repeated)
        self.assertEqual(self.mailed(), ["j.alder", "m.rowan", "t.linnet"])

    def test_who_has_left_the_site_holds_up_nobody(self):
        self.mail.handler.replies["MAIL"] = "451 later"
        self.start()
        self.raise_alert()
        site = pathlib.Path(self.config, "sites", SITE)
        text, left = re.subn(r'person \{\n  id: "r\.sorrel".*?\n\}\n', "",
                             site.read_text(), flags=re.DOTALL)
        self.assertEqual(left, 1)
        site.write_text(text)
        self.server.send(signal.SIGHUP)
        self.server.wait_for("configuration in force")
        self.mail.handler.replies.clear()
        self.advance(10 * MINUTE)
        gone = "A-1/1/r.sorrel/mail"
        self.until_ended(SENT, RUNG_1 - {gone})
        message, = self.outbox(GIVEN_UP).values()
        self.assertEqual(message.key, gone)
        self.assertIn("left the site", message.last_error)

    def test_a_hanging_telephone_delays_no_mail(self):
        self.configure(hook_answers="hang")
        self.start()
        self.raise_alert()

        def rings_and_mail_sent():
            return self.hook.requests and len(self.outbox(SENT)) == 3
        until(rings_and_mail_sent)
        self.assertEqual(self.mailed(), self.rung(RUNG_1))
        owed, = self.outbox(OWED).values()
        self.assertEqual(owed.key, "A-1/1/m.rowan/duty-phone")
        self.assertEqual(owed.attempts, 0)

    def test_stopped_and_started_it_repeats_nothing(self):
        self.start()
        self.raise_alert()
        self.until_ended(SENT, RUNG_1)
        self.lead.close()  # or it is waited for
        self.assertEqual(self.server.stop(), 0)
        self.start()
        self.raise_alert(2)
        second = ways("A-2/1", "r.sorrel", "a.fennel", "m.rowan+")
        self.until_ended(SENT, RUNG_1 | second)
        self.assertTold(RUNG_1, second)

    def test_not_told_to_send_it_sends_nothing_and_says_so(self):
        self.start(send=False)
        self.raise_alert()
        page = self.turnstone("outbox")
        self.assertIn("SENDS NOTHING", page)
        self.assertIn("--send", page)
        self.assertFalse(json.loads(
            self.turnstone("--json", "outbox")).get("sending", False))
        self.assertEqual(self.server.stop(), 0)
        self.assertTold()
        # It stays owed.
        self.start()
        self.until_ended(SENT, RUNG_1)
        self.assertTold(RUNG_1)
        self.assertNotIn("SENDS NOTHING", self.turnstone("outbox"))

    def turnstone(self, *words):
        done = subprocess.run(
            [os.environ["TURNSTONE"], "--server",
             f"127.0.0.1:{self.server.port}", "--as", "m.rowan,on-call-lead",
             *words], capture_output=True, text=True)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def test_what_can_wait_comes_once_a_day(self):
        self.start()
        for number in (1, 2):
            event = phq9(f"e-{number}", [], participant=f"p-{number}")
            event.ClearField("screening_result")
            event.practice_report.confidence = 50
            answer = self.submit(event)
            self.assertEqual(list(answer.alert_id), [f"A-{number}"])
        # Monday 10:00; a.fennel chose 08:30, r.sorrel has the day's start.
        self.advance(22 * HOUR + 29 * MINUTE)
        self.assertEqual(len(self.outbox(OWED)), 4)
        self.advance(1 * MINUTE)

        def a_fennel_has_hers():
            return len(self.outbox(SENT)) == 2
        until(a_fennel_has_hers)
        self.assertEqual(self.mailed(), ["a.fennel"])
        self.advance(30 * MINUTE)
        self.until_ended(SENT, ways("A-1/1", "a.fennel", "r.sorrel")
                         | ways("A-2/1", "a.fennel", "r.sorrel"))
        self.assertEqual(self.mailed(), ["a.fennel", "r.sorrel"])
        for _, mail in self.mails():
            for alert in ("A-1", "A-2"):
                self.assertIn(f"turnstone receive {alert}",
                              mail.get_content())


if __name__ == "__main__":
    unittest.main()
