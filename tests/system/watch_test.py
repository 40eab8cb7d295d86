"""What those who run the service see of it: figures for a Prometheus server,
its rules, and the systemd unit. Outside checks: promtool (Prometheus' own
linter and rule tester) and systemd-analyze."""

import os
import pathlib
import subprocess
import unittest
import urllib.request

import grpc

from harness import ROOT, SystemTest, phq9

RULES = ROOT + "/deploy/watch/turnstone-rules.yaml"
UNIT = ROOT + "/deploy/turnstoned.service"


def run(*command, text=None):
    return subprocess.run(command, input=text, capture_output=True, text=True,
                          check=False)


class WatchTest(SystemTest):
    def fetch(self, server):
        port = server.wait_for("serving")["metrics_port"]
        with urllib.request.urlopen(
                f"http://127.0.0.1:{port}/metrics", timeout=60) as reply:
            return reply.read().decode()

    def figures(self, server):
        """{"name{labels}": value}"""
        lines = [line for line in self.fetch(server).splitlines()
                 if not line.startswith("#")]
        return {name: float(value)
                for name, value in (line.rsplit(" ", 1) for line in lines)}

    def assertWell(self, result):
        self.assertEqual(result.returncode, 0, result.stdout + result.stderr)

    def test_figures_say_how_it_is(self):
        server = self.serve(more=["--metrics", "127.0.0.1:0"])
        intake = server.client()
        before = self.figures(server)
        self.assertEqual(before["turnstone_accepting"], 1)
        self.assertEqual(before["turnstone_recording"], 1)
        self.assertEqual(before["turnstone_events_accepted_total"], 0)
        event = phq9("e-canary", [0] * 8 + [1], participant="p-canary")
        intake.submit(event)
        intake.submit(event)
        with self.assertRaises(grpc.RpcError):
            intake.submit(phq9("e-2", [None] * 9, participant=""))
        person = server.client("r.sorrel", "clinician")
        open_alerts = person.list().alert
        person.work(open_alerts[0].alert_id, receive={})
        person.close()
        intake.close()
        text = self.fetch(server)
        after = self.figures(server)
        self.assertEqual(after["turnstone_events_accepted_total"], 1)
        self.assertEqual(after["turnstone_events_repeated_total"], 1)
        self.assertEqual(
            after['turnstone_events_refused_total{code="INVALID_ARGUMENT"}'], 1)
        self.assertEqual(after["turnstone_alerts_open"], len(open_alerts))
        self.assertEqual(after["turnstone_alerts_in_nobodys_hands"],
                         len(open_alerts) - 1)
        self.assertGreaterEqual(after["turnstone_commit_seconds_count"], 1)
        self.assertGreater(after['turnstone_store_bytes{file="database"}'], 0)
        owed = [value for name, value in after.items()
                if name.startswith("turnstone_messages_owed{")]
        self.assertGreater(sum(owed), 0)
        # Nothing of any participant.
        self.assertNotIn("canary", text)
        self.assertWell(run("promtool", "check", "metrics", text=text))

    def test_a_port_that_is_taken_is_named(self):
        server = self.serve(more=["--metrics", "127.0.0.1:0"])
        port = server.wait_for("serving")["metrics_port"]
        second = self.serve(data=self.folder + "/other", start=False,
                            more=["--metrics", f"127.0.0.1:{port}"])
        self.assertEqual(second.finish(), 1)
        self.assertIn("choose another --metrics", second.raw)

    def test_rules_fit_and_fire(self):
        self.assertWell(run("promtool", "check", "rules", RULES))
        source = pathlib.Path(__file__).with_name("watch_test.yaml")
        copy = pathlib.Path(self.folder) / "watch_test.yaml"
        copy.write_text(source.read_text().replace("RULES", RULES))
        self.assertWell(run("promtool", "test", "rules", str(copy)))

    def test_rules_use_figures_that_there_are(self):
        server = self.serve(more=["--metrics", "127.0.0.1:0"])
        there = {name.partition("{")[0] for name in self.figures(server)}
        rules = pathlib.Path(RULES).read_text()
        for word in set(rules.replace("{", " ").split()):
            if word.startswith("turnstone_"):
                self.assertIn(word, there)

    def test_unit_is_sound_and_closed(self):
        # The unit names where packages put the program.
        text = pathlib.Path(UNIT).read_text().replace(
            "/usr/bin/turnstoned", os.environ["TURNSTONED"])
        copy = pathlib.Path(self.folder) / "turnstoned.service"
        copy.write_text(text)
        found = run("systemd-analyze", "verify", str(copy))
        self.assertWell(found)
        self.assertNotIn("turnstoned.service:", found.stderr)
        # 0 is closed, 10 open; most services are above 9. The limit is our own.
        self.assertWell(run("systemd-analyze", "security", "--offline=true",
                            "--threshold=15", str(copy)))


if __name__ == "__main__":
    unittest.main()
