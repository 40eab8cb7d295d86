"""The audit of a service that runs: who looked, signed checkpoints, and what
finds a change behind the service's back. Promised: audit.proto,
audit_checkpoint.h; checkpoints are checked with the openssl program, too."""

import json
import os
import pathlib
import sqlite3
import subprocess
import unittest

from google.protobuf import duration_pb2
from harness import SystemTest, phq9
from turnstone.v1 import service_pb2

FILE = "audit-checkpoints.jsonl"


def openssl(*arguments):
    return subprocess.run(["openssl", *arguments], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, check=False)


class AuditTest(SystemTest):
    def setUp(self):
        super().setUp()
        self.keys = self.folder + "/keys"
        self.kept = self.folder + "/kept"
        os.mkdir(self.keys, 0o700)
        self.private = self.keys + "/audit-checkpoint-key.pem"
        self.public = self.folder + "/public.pem"
        self.make_key(self.private, self.public)

    def make_key(self, private, public):
        openssl("genpkey", "-algorithm", "ed25519", "-out", private)
        os.chmod(private, 0o600)
        openssl("pkey", "-in", private, "-pubout", "-out", public)

    def turnstone(self, *arguments):
        return subprocess.run(
            [os.environ["TURNSTONE"], *arguments], text=True, check=False,
            env=os.environ | {"PATH": os.path.dirname(
                os.environ["TURNSTONED"]) + ":" + os.environ["PATH"]},
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60)

    def verify(self, checkpoints=None, key=None):
        more = ["--checkpoints", checkpoints or f"{self.kept}/{FILE}",
                "--key", key or self.public]
        return self.turnstone("audit", "verify", self.data, *more)

    def live(self):
        """A course with two checkpoints at least; where they are."""
        server = self.serve(data=self.data, more=[
            "--credentials", self.keys, "--checkpoints", self.kept])
        intake = server.client()
        for number in range(3):
            intake.submit(phq9(f"q{number}", [1] * 9))
        reader = server.client("r.sorrel", "clinician")
        reader.participants.GetParticipant(
            service_pb2.GetParticipantRequest(participant="p1"), **reader.how)
        shown = self.turnstone(
            "participant", "p1", "--disclosures", "--as", "m.rowan,on-call-lead",
            "--server", f"127.0.0.1:{server.port}")
        self.assertEqual(shown.returncode, 0, shown.stdout)
        self.assertRegex(shown.stdout,
                         r"r\.sorrel +clinician +saw the participant's page")
        intake.clock.AdvanceClock(service_pb2.AdvanceClockRequest(
            by=duration_pb2.Duration(seconds=2 * 86400)), **intake.how)
        intake.close()
        reader.close()
        self.assertEqual(server.stop(), 0)
        return [json.loads(line) for line in
                pathlib.Path(f"{self.kept}/{FILE}").read_text().splitlines()]

    def test_from_end_to_end(self):
        self.data = self.folder + "/data"
        lines = self.live()
        self.assertGreaterEqual(len(lines), 2)
        # By another program, from the description in audit_checkpoint.h.
        last = lines[-1]
        pathlib.Path(self.folder + "/text").write_text(
            "turnstone audit checkpoint 1\n"
            f"{last['sequence']}\n{last['chain']}\n{last['at']}\n")
        pathlib.Path(self.folder + "/signature").write_bytes(
            bytes.fromhex(last["signature"]))
        said = openssl("pkeyutl", "-verify", "-rawin", "-pubin",
                       "-inkey", self.public, "-in", self.folder + "/text",
                       "-sigfile", self.folder + "/signature")
        self.assertEqual(said.returncode, 0, said.stdout)
        well = self.verify()
        self.assertEqual(well.returncode, 0, well.stdout)
        self.assertIn("each as it was written", well.stdout)
        self.cut_off(last["sequence"])
        self.wrong_key()

    def cut_off(self, count):
        db = sqlite3.connect(self.data + "/turnstone.db")
        kept = db.execute("SELECT max(sequence) FROM audit").fetchone()[0]
        self.assertEqual(kept, count)
        db.execute("DELETE FROM audit WHERE sequence > ?", (count - 2,))
        db.commit()
        db.close()
        # Without the checkpoints nobody can tell.
        bare = self.turnstone("audit", "verify", self.data)
        self.assertEqual(bare.returncode, 0, bare.stdout)
        found = self.verify()
        self.assertEqual(found.returncode, 1, found.stdout)
        self.assertIn(f"audit {count - 1}", found.stdout)

    def wrong_key(self):
        self.make_key(self.folder + "/other", self.folder + "/other-public")
        forged = self.verify(key=self.folder + "/other-public")
        self.assertEqual(forged.returncode, 1)
        self.assertIn("signature", forged.stdout)
        missing = self.verify(checkpoints=self.folder + "/nowhere")
        self.assertEqual(missing.returncode, 1)

    def test_without_a_key_the_log_says_that_there_are_none(self):
        os.remove(self.private)
        server = self.serve(more=["--credentials", self.keys,
                                   "--checkpoints", self.kept])
        self.assertIn("no checkpoints of the audit are signed", server.raw)
        self.assertEqual(server.stop(), 0)
        self.assertFalse(os.path.exists(f"{self.kept}/{FILE}"))


if __name__ == "__main__":
    unittest.main()
