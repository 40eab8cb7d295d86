"""What an operator does, and the mistakes they make."""

import os
import signal
import stat
import unittest

import grpc
from grpc import StatusCode

from turnstone.v1 import version_pb2

from harness import SystemTest, phq9


class OperationsTest(SystemTest):
    def refusal(self, **options):
        server = self.serve(start=False, **options)
        code = server.finish()
        self.assertNotEqual(code, 0)
        return server.raw

    def spoil(self, folder):
        pack = folder + "/packs/home-visits.textproto"
        with open(pack, "a", encoding="utf-8") as file:
            file.write("\nrule { idd: 'x' }\n")

    def test_serving_says_so(self):
        server = self.serve()
        self.assertTrue(server.health())
        self.assertTrue(server.health("turnstone.v1.EventService"))

    def test_second_server_on_the_same_data_is_refused(self):
        self.serve()
        said = self.refusal()
        self.assertIn("cannot start", said)
        self.assertIn(self.data, said)

    def test_second_server_on_the_same_port_is_refused(self):
        first = self.serve()
        said = self.refusal(data=self.folder + "/other",
                            listen=f"127.0.0.1:{first.port}")
        self.assertIn("another program has the port", said)

    def test_other_addresses_than_loopback_are_refused(self):
        for address in ("0.0.0.0:7411", "127.example.org:7411", "[::]:7411"):
            self.assertIn("only the loopback interface",
                          self.refusal(listen=address))

    def test_placeholder_is_not_for_real_time(self):
        said = self.refusal(clock="system")
        self.assertIn("PLACEHOLDER", said)

    def test_real_time_cannot_be_moved(self):
        server = self.serve(clock="system", config=[self.real_config()])
        person = server.client("o.plover", "operator")
        from google.protobuf import duration_pb2
        from turnstone.v1 import service_pb2
        self.assertFalse(person.clock.GetClock(
            service_pb2.GetClockRequest(), **person.how).simulated)
        self.assertRefused(
            StatusCode.FAILED_PRECONDITION, "--clock simulated",
            person.clock.AdvanceClock,
            service_pb2.AdvanceClockRequest(
                by=duration_pb2.Duration(seconds=5)), **person.how)
        person.close()

    def test_bad_configuration_on_a_new_store_is_refused_by_line(self):
        folder = self.own_config()
        self.spoil(folder)
        said = self.refusal(config=[folder])
        self.assertIn("packs/home-visits.textproto:", said)
        self.assertIn("idd", said)

    def test_bad_configuration_leaves_the_last_good_one_in_force(self):
        folder = self.own_config()
        server = self.serve(config=[folder])
        self.spoil(folder)
        server.send(signal.SIGHUP)
        server.wait_for("configuration not changed")
        client = server.client()
        client.submit(phq9("e1", [0] * 8 + [1]))
        server.kill()
        # Even over a restart: a spoilt file must not silence the service.
        server = self.serve(config=[folder])
        server.wait_for("the last good configuration is in force")
        client = server.client()
        answer = client.submit(phq9("e2", [0] * 8 + [1], participant="p2"))
        self.assertEqual(list(answer.alert_id), ["A-2"])
        client.close()

    def rules_that_spoke(self, client):
        return [alert.rule.rule for alert in client.list().alert]

    def activate(self, lead, digest):
        return lead.rules.ActivateVersion(
            version_pb2.ActivateVersionRequest(digest=digest, reason="agreed"),
            **lead.how)

    def append_to_site(self, folder, text):
        site = folder + "/sites/pebble-bay.textproto"
        with open(site, "a", encoding="utf-8") as file:
            file.write("\n" + text + "\n")

    def test_another_number_waits_for_the_lead_to_put_it_in_force(self):
        folder = self.own_config()
        server = self.serve(config=[folder])
        self.append_to_site(folder, 'override { name: "above-range" value: 15 '
                                    'reason: "test" }')
        server.send(signal.SIGHUP)
        overlap = server.wait_for("a version of the rules is proposed, not in "
                                  "force")["configuration"]
        lead = server.client("k.heron", "programme-lead")
        with self.assertRaises(grpc.RpcError) as refused:
            self.activate(lead, overlap)
        self.assertIn("both speak", refused.exception.details())
        self.append_to_site(folder, 'override { name: "programme-upper" '
                                    'value: 14 reason: "test" }')
        server.log.clear()
        server.send(signal.SIGHUP)
        digest = server.wait_for("a version of the rules is proposed, not in "
                                 "force")["configuration"]
        client = server.client()
        fifteen = [2, 2, 2, 2, 2, 2, 2, 1, 0]
        client.submit(phq9("e1", fifteen))
        self.assertNotIn("score-above-range", self.rules_that_spoke(lead))
        version = self.activate(lead, digest)
        self.assertEqual(version.status, version_pb2.VERSION_STATUS_IN_FORCE)
        self.assertIn("properties hold", version.history[-1].proof)
        client.submit(phq9("e2", fifteen, participant="p2"))
        self.assertIn("score-above-range", self.rules_that_spoke(lead))
        client.close()
        lead.close()

    def test_what_does_not_decide_comes_into_force_without_a_restart(self):
        folder = self.own_config()
        server = self.serve(config=[folder])
        self.append_to_site(folder, 'person { id: "n.ewe" role: "clinician" }')
        server.send(signal.SIGHUP)
        server.wait_for("configuration in force")
        client = server.client()
        client.submit(phq9("e1", [0] * 8 + [1]))
        newcomer = server.client("n.ewe", "clinician")
        newcomer.work("A-1", receive={})
        client.close()
        newcomer.close()

    def test_log_and_folder_give_nothing_away(self):
        server = self.serve()
        client = server.client()
        # Points 0 to 3 in a row of their own, and a reported total of 17.
        event = phq9("canary-event", [3, 3, 3, 3, 3, 2, 0, 0, 2],
                     participant="canary-participant")
        event.screening_result.reported_total = 17
        client.submit(event)
        bad = phq9("canary-bad", [0] * 9)
        bad.screening_result.answers[0].answer = "canary-answer"
        with self.assertRaises(grpc.RpcError):
            client.submit(bad)
        client.close()
        server.stop()
        for word in ("canary", "LA6571-9", "44260-8", "17"):
            for line in server.log:
                line.pop("time", None)
                line.pop("port", None)
                line.pop("configuration", None)
                self.assertNotIn(word, str(line))
        self.assertEqual(stat.S_IMODE(os.stat(self.data).st_mode), 0o700)
        for name in os.listdir(self.data):
            mode = os.stat(os.path.join(self.data, name)).st_mode
            self.assertEqual(stat.S_IMODE(mode), 0o600, name)

    def test_wrong_flags_say_what_to_write(self):
        said = self.refusal(clock="sundial")
        self.assertIn("sundial", said)
        self.assertIn("--help", said)


if __name__ == "__main__":
    unittest.main()
