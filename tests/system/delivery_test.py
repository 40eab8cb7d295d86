"""Messages all the way to the people.

Who is told what, and when, is in deploy/config/sites/pebble-bay.textproto.
From Monday 29 December 2025 on the two leads take turns by the week; 4 January
2027 is 53 weeks later, so it is the second one's, m.rowan's.
"""

import asyncio
import json
import re
import signal
import unittest

from harness import phq9, until
from messages import (GIVEN_UP, OWED, PASSWORD, SENT, USER, WITHDRAWN,
                      MessagesTest, keys, read_mail)
from turnstone.v1 import service_pb2

MINUTE, HOUR = 60, 3600
RUNG_1 = keys("A-1/1", "r.sorrel", "a.fennel", "m.rowan+")
RUNG_2 = keys("A-1/2", "t.linnet+", "m.rowan+")
RUNG_3 = keys("A-1/3", "t.linnet+", "m.rowan+", "j.alder+")
SECOND_ALERT = keys("A-2/1", "r.sorrel", "a.fennel", "m.rowan+")
TELEPHONE = "A-1/1/m.rowan/duty-phone"


class DeliveryTest(MessagesTest):
    def test_the_first_rung_is_told(self):
        self.start()
        self.raise_alert()
        self.assertEnds(SENT, RUNG_1)
        self.assertTold(RUNG_1)
        self.assertEqual(set(self.mail.logins), {(USER, PASSWORD)})
        for session, _ in self.mail.handler.taken:
            self.assertIsNotNone(session.ssl)
        for mail in self.mails():
            self.assertIn("alert A-1, priority stat", mail["Subject"])
        event, = self.events()
        self.assertEqual(event["data"]["person"], "m.rowan")
        self.assertEqual(event["data"]["alerts"][0]["alertId"], "A-1")

    def test_nothing_of_the_participant_leaves(self):
        self.start()
        self.raise_alert()
        self.assertEnds(SENT, RUNG_1)
        texts = [str(mail.items()) + mail.get_content()
                 for mail in self.mails()]
        (_, headers, body), = self.hook.requests
        # Bytes in base64 may look like anything.
        del headers["Signature"], headers["Content-Digest"]
        texts.append(str(headers.items()) + body.decode())
        self.assertEqual(len(texts), 4)
        for text in texts:
            self.assertNotRegex(
                text, r"(?i)canary|\b17\b|44260-8|LA6570-1|phq|safety|harm")

    def test_the_next_rung_is_told_until_somebody_has_it(self):
        self.start()
        self.raise_alert()
        self.assertEnds(SENT, RUNG_1)
        self.advance(15 * MINUTE)
        self.assertEnds(SENT, RUNG_1 | RUNG_2)
        self.assertTold(RUNG_1 | RUNG_2)
        self.lead.work("A-1", receive=service_pb2.Receive())
        # Short of the four hours after which the holder is asked.
        self.advance(3 * HOUR)
        self.assertEnds(SENT, RUNG_1 | RUNG_2)
        self.assertTold(RUNG_1 | RUNG_2)

    def test_what_is_owed_when_somebody_has_it_is_withdrawn(self):
        self.mail.handler.replies["MAIL"] = "451 later"
        self.start()
        self.raise_alert()

        def all_are_tried():
            return all(one.attempts for one in self.outbox().values())
        until(all_are_tried)
        self.lead.work("A-1", receive=service_pb2.Receive())
        self.assertEqual(set(self.outbox(WITHDRAWN)), RUNG_1 - {TELEPHONE})
        self.mail.handler.replies.clear()
        self.advance(10 * MINUTE)
        self.raise_alert(2)
        self.assertEnds(SENT, SECOND_ALERT | {TELEPHONE})
        self.assertTold(SECOND_ALERT | {TELEPHONE})
        for mail in self.mails():
            self.assertIn("alert A-2", mail["Subject"])

    def test_killed_while_mail_is_owed(self):
        self.mail.handler.replies["MAIL"] = "451 later"
        self.start()
        self.raise_alert()
        self.server.kill()
        self.mail.handler.replies.clear()
        self.start()
        self.advance(10 * MINUTE)
        self.assertEnds(SENT, RUNG_1)
        self.assertMailed(RUNG_1)
        # Perhaps more than once: the server may not have lived to hear it.
        self.assertEqual({event["id"] for event in self.events()},
                         {TELEPHONE})

    def test_killed_before_it_heard_that_a_message_was_taken(self):
        taken = []

        async def take_and_say_nothing(server):
            taken.append(read_mail(server.envelope))
            await asyncio.Event().wait()
        self.mail.handler.replies["DATA"] = take_and_say_nothing
        self.configure(telephone="hang")
        self.start()
        self.raise_alert()

        def both_are_taken():
            return taken and self.hook.requests
        until(both_are_taken)
        mail, = taken
        event, = self.events()
        self.server.kill()
        self.mail.handler.replies.clear()
        self.hook.requests.clear()
        self.configure()
        self.start()
        self.assertEnds(SENT, RUNG_1)
        self.assertTold(RUNG_1)
        self.assertEqual(self.events(), [event])
        ids = {again["To"]: again["Message-ID"] for again in self.mails()}
        self.assertEqual(ids[mail["To"]], mail["Message-ID"])
        self.assertEqual(len(set(ids.values())), 3)

    def test_where_nobody_is_reached_the_next_are_told_at_once(self):
        self.mail.handler.replies["RCPT"] = "550 nobody of that name"
        self.configure(telephone="422")
        self.start()
        self.raise_alert()
        self.assertEnds(GIVEN_UP, RUNG_1 | RUNG_2 | RUNG_3)
        for message in self.outbox(GIVEN_UP).values():
            said = "422" if message.channel == "duty-phone" else "550"
            self.assertIn(said, message.last_error)
        # It serves, and goes on telling.
        self.mail.handler.replies.clear()
        self.configure()
        self.server.send(signal.SIGHUP)
        self.server.wait_for("configuration in force")
        self.hook.requests.clear()
        self.advance(30 * MINUTE)
        again = {key.replace("A-1/3/", "A-1/4/") for key in RUNG_3}
        self.assertEnds(SENT, again)
        self.assertTold(again)

    def test_who_has_left_the_site_holds_up_nobody(self):
        self.mail.handler.replies["MAIL"] = "451 later"
        self.start()
        self.raise_alert()
        text, left = re.subn(r'person \{\n  id: "r\.sorrel".*?\n\}\n', "",
                             self.site.read_text(encoding="utf-8"),
                             flags=re.DOTALL)
        self.assertEqual(left, 1)
        self.site.write_text(text, encoding="utf-8")
        self.server.send(signal.SIGHUP)
        self.server.wait_for("configuration in force")
        self.mail.handler.replies.clear()
        self.advance(10 * MINUTE)
        gone = "A-1/1/r.sorrel/mail"
        self.assertEnds(SENT, RUNG_1 - {gone})
        message, = self.outbox(GIVEN_UP).values()
        self.assertEqual(message.key, gone)
        self.assertIn("left the site", message.last_error)

    def test_a_hanging_telephone_delays_no_mail(self):
        self.configure(telephone="hang")
        self.start()
        self.raise_alert()

        def it_rings_and_mail_is_sent():
            return self.hook.requests and len(self.outbox(SENT)) == 3
        until(it_rings_and_mail_is_sent)
        self.assertMailed(RUNG_1)
        owed, = self.outbox(OWED).values()
        self.assertEqual(owed.key, TELEPHONE)
        self.assertEqual(owed.attempts, 0)

    def test_stopped_and_started_it_repeats_nothing(self):
        self.start()
        self.raise_alert()
        self.assertEnds(SENT, RUNG_1)
        self.lead.close()  # a connection is given time to end
        self.assertEqual(self.server.stop(), 0)
        self.start()
        self.raise_alert(2)
        self.assertEnds(SENT, RUNG_1 | SECOND_ALERT)
        self.assertTold(RUNG_1 | SECOND_ALERT)

    def test_not_told_to_send_it_sends_nothing_and_says_so(self):
        self.start(send=False)
        self.raise_alert()
        self.assertIn("SENDS NOTHING", self.turnstone("outbox"))
        self.assertFalse(self.says_it_sends())
        self.assertEqual(self.server.stop(), 0)
        self.assertTold(set())
        # It stays owed.
        self.start()
        self.assertEnds(SENT, RUNG_1)
        self.assertTold(RUNG_1)
        self.assertNotIn("SENDS NOTHING", self.turnstone("outbox"))
        self.assertTrue(self.says_it_sends())

    def says_it_sends(self):
        # JSON leaves out what is false.
        outbox = json.loads(self.turnstone("--json", "outbox"))
        return outbox.get("sending", False)

    def test_what_can_wait_comes_once_a_day(self):
        self.start()
        for number in (1, 2):
            event = phq9(f"e-{number}", [], participant=f"p-{number}")
            event.practice_report.confidence = 50
            self.submit(event, f"A-{number}")
        # It is Monday 10:00. a.fennel chose 08:30; r.sorrel chose nothing and
        # has the start of the day, 09:00.
        self.advance(22 * HOUR + 29 * MINUTE)
        self.assertEqual(len(self.outbox(OWED)), 4)
        self.advance(1 * MINUTE)

        def one_has_both():
            return len(self.outbox(SENT)) == 2
        until(one_has_both)
        self.assertEqual(self.mailed(), ["a.fennel"])
        self.advance(30 * MINUTE)
        self.assertEnds(SENT, keys("A-1/1", "a.fennel", "r.sorrel")
                        | keys("A-2/1", "a.fennel", "r.sorrel"))
        self.assertEqual(self.mailed(), ["a.fennel", "r.sorrel"])
        for mail in self.mails():
            for alert in ("A-1", "A-2"):
                self.assertIn(f"turnstone receive {alert}",
                              mail.get_content())


del MessagesTest  # it has no tests of its own

if __name__ == "__main__":
    unittest.main()
