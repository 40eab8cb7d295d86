"""Looking after the data with the real programs: backup, restore, verify,
erase. What is promised: operations.proto and deploy/RUNBOOK.md."""

import json
import os
import stat
import subprocess
import threading
import unittest

import grpc
from grpc import StatusCode

from turnstone.v1 import operations_pb2, service_pb2_grpc

from harness import SystemTest, phq9

STEWARD = "w.dunlin,data-steward"


def run(program, *arguments, told=None):
    return subprocess.run(
        [os.environ[program], *arguments], input=told, text=True, timeout=60,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)


class DataTest(SystemTest):
    def setUp(self):
        super().setUp()
        self.backups = self.folder + "/backups"

    def cli(self, server, *arguments, who=STEWARD, told=None):
        return run("TURNSTONE", "--server", f"127.0.0.1:{server.port}",
                   "--as", who, *arguments, told=told)

    def serve_with_backups(self):
        return self.serve(more=["--backups", self.backups])

    def backup(self, server):
        """Path of a backup made by command."""
        done = self.cli(server, "backup", "--json")
        self.assertEqual(done.returncode, 0, done.stderr)
        made = json.loads(done.stdout)
        path = os.path.join(self.backups, made["file"])
        self.assertEqual(os.stat(path).st_size, int(made["bytes"]))
        self.assertEqual(stat.S_IMODE(os.stat(path).st_mode), 0o600)
        return path, int(made["events"])

    def restore(self, path, to):
        return run("TURNSTONED", "restore", "--from", path, "--data", to)

    def verify(self, folder):
        return run("TURNSTONED", "verify", "--data", folder)

    def test_a_backup_made_under_load_is_the_store_of_that_moment(self):
        server = self.serve_with_backups()
        intake = server.client()
        self.addCleanup(intake.close)
        accepted = []
        enough = threading.Event()

        def go_on():
            number = 0
            while not enough.is_set():
                accepted.append(intake.submit(
                    phq9(f"e{number}", [1] * 8 + [number % 2],
                         participant=f"p{number}")))
                number += 1
        stream = threading.Thread(target=go_on)
        stream.start()
        try:
            made = [self.backup(server) for _ in range(3)]
        finally:
            enough.set()
            stream.join()
        path, events = made[-1]
        answers = {a.sequence: list(a.alert_id) for a in accepted}
        server.kill()
        said = self.restore(path, self.folder + "/restored")
        self.assertEqual(said.returncode, 0, said.stdout + said.stderr)
        self.assertIn(f"{events} events", said.stdout)
        self.assertIn("NOT IN IT", said.stdout)
        self.assertIn("Everything is as it should be.", said.stdout)
        again = self.serve(data=self.folder + "/restored")
        client = again.client()
        self.addCleanup(client.close)
        # Sources send everything again; what was in it has no second effect.
        for sequence, alerts in sorted(answers.items()):
            number = sequence - 1
            answer = client.submit(phq9(f"e{number}",
                                        [1] * 8 + [number % 2],
                                        participant=f"p{number}"))
            self.assertEqual(answer.sequence, sequence)
            self.assertEqual(answer.repeated_submission, sequence <= events)
            self.assertEqual(list(answer.alert_id), alerts)

    def test_who_may_not_and_where_there_is_no_folder(self):
        server = self.serve()
        self.assertIn("--backups", self.cli(server, "backup").stderr)
        refused = self.cli(server, "backup", who="r.sorrel,clinician")
        self.assertEqual(refused.returncode, 1)
        self.assertIn("may not call this; these may: operator", refused.stderr)
        self.assertFalse(os.path.exists(self.backups))

    def test_a_call_that_ends_early_leaves_no_backup(self):
        server = self.serve_with_backups()
        with grpc.insecure_channel(f"127.0.0.1:{server.port}") as channel:
            stub = service_pb2_grpc.OperationsServiceStub(channel)
            how = {"metadata": (("turnstone-name", "w.dunlin"),
                                ("turnstone-role", "data-steward"))}
            for _ in range(3):
                stub.BackUp(operations_pb2.BackUpRequest(),
                            timeout=60, **how).cancel()
        # The next one is not kept waiting, once the service has noticed.
        while True:
            done = self.cli(server, "backup", "--json")
            if done.returncode == 0:
                break
            self.assertIn("another backup", done.stderr)
        self.assertNotIn("unfinished.db", os.listdir(self.backups))

    def test_verify_is_for_a_store_that_nobody_has(self):
        server = self.serve()
        busy = self.verify(self.data)
        self.assertEqual(busy.returncode, 1)
        self.assertIn("another turnstoned has", busy.stderr)
        server.client().submit(phq9("e1", [0] * 8 + [2]))
        server.kill()
        # After a crash too, with the log still to be merged.
        fine = self.verify(self.data)
        self.assertEqual(fine.returncode, 0, fine.stdout + fine.stderr)
        self.assertIn("alerts", fine.stdout)
        nothing = self.verify(self.folder + "/nowhere")
        self.assertEqual(nothing.returncode, 1)
        self.assertIn("there is no store", nothing.stderr)
        self.assertEqual(run("TURNSTONED", "verify").returncode, 2)

    def test_verify_finds_what_a_disk_did(self):
        server = self.serve()
        for i in range(50):
            server.client().submit(phq9(f"e{i}", [0] * 8 + [2],
                                        participant=f"p{i}"))
        server.stop()
        with open(self.data + "/turnstone.db", "r+b") as file:
            file.seek(12 * 4096)
            file.write(b"\x55" * 8192)
        found = self.verify(self.data)
        self.assertEqual(found.returncode, 1)
        self.assertIn("restore", found.stdout + found.stderr)

    def test_restore_refuses_what_is_no_backup(self):
        path = self.folder + "/letter.db"
        with open(path, "w", encoding="utf-8") as file:
            file.write("x" * 8192)
        refused = self.restore(path, self.folder + "/new")
        self.assertEqual(refused.returncode, 1)
        self.assertEqual(os.listdir(self.folder + "/new"), [])

    def holders(self, text):
        found = []
        for name in os.listdir(self.data):
            with open(os.path.join(self.data, name), "rb") as file:
                if text.encode() in file.read():
                    found.append(name)
        return found

    def test_erase_asks_once_more_and_leaves_no_trace(self):
        server = self.serve()
        client = server.client()
        self.addCleanup(client.close)
        client.submit(phq9("e1", [0] * 8 + [2], participant="zz-planted"))
        client.submit(phq9("e2", [0] * 8 + [0], participant="zz-other"))
        erase = ["erase", "zz-planted", "--reason", "asked for"]
        self.assertIn("A-1", self.cli(server, *erase, "--yes").stderr)
        self.cli(server, "close", "A-1", "--outcome", "no-action-needed",
                 "--note", "zz-note", who="r.sorrel,clinician")
        self.cli(server, "confirm", "A-1", who="t.linnet,on-call-lead")
        self.assertTrue(self.holders("zz-note"))
        wrong = self.cli(server, *erase, told="zz-plant\n")
        self.assertEqual(wrong.returncode, 1)
        self.assertTrue(self.holders("zz-planted"))
        done = self.cli(server, *erase, told="zz-planted\n")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("1 event and 1 alert", done.stdout)
        # With the service running, its log included.
        self.assertEqual(self.holders("zz-planted"), [])
        self.assertEqual(self.holders("zz-note"), [])
        self.assertTrue(self.holders("zz-other"))
        page = self.cli(server, "alert", "A-1", who="r.sorrel,clinician")
        self.assertIn("erased/1", page.stdout)
        server.stop()
        self.assertEqual(self.verify(self.data).returncode, 0)
        self.assertNotIn("zz-planted", server.raw)


if __name__ == "__main__":
    unittest.main()
