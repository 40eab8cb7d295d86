"""What `cmake --install` puts where, and whether the container file names the
libraries that it needs. Outside check: the dynamic linker's own list (readelf)
and Debian's own record of which package has which file (dpkg)."""

import os
import pathlib
import re
import subprocess
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
BUILD = os.environ["BUILD"]
# What the sanitizers bring along; a release has none of it.
SANITIZERS = {"libasan", "libubsan", "libclang"}


def output(*command):
    return subprocess.run(command, check=True, capture_output=True,
                          text=True).stdout


class InstallTest(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(folder.cleanup)
        cls.prefix = pathlib.Path(folder.name) / "usr"
        output("cmake", "--install", BUILD, "--prefix", str(cls.prefix))

    def test_programs_and_rules_are_there_and_fit(self):
        for program in ("turnstoned", "turnstone"):
            output(str(self.prefix / "bin" / program), "--help")
        rules = self.prefix / "share" / "turnstone" / "rules"
        checked = output(str(self.prefix / "bin" / "turnstone"), "rules",
                         "check", str(rules), str(ROOT / "deploy" / "config"))
        self.assertIn("1 site", checked)
        texts = self.prefix / "share" / "doc" / "turnstone"
        self.assertTrue((texts / "RUNBOOK.md").is_file())
        unit = self.prefix / "lib" / "systemd" / "system"
        self.assertTrue((unit / "turnstoned.service").is_file())

    def test_the_container_has_every_library(self):
        container = (ROOT / "deploy" / "Containerfile").read_text()
        image = container.split("FROM ")[2]
        needed = set()
        for program in ("turnstoned", "turnstone"):
            path = str(self.prefix / "bin" / program)
            needed |= set(re.findall(r"\(NEEDED\).*\[(\S+)\]",
                                     output("readelf", "-d", path)))
        self.assertTrue(needed)
        for library in needed:
            if library.split(".")[0] in SANITIZERS:
                continue
            # Several packages may have one of that name.
            owners = output("dpkg-query", "-S", f"*/{library}").splitlines()
            packages = {owner.split(":")[0] for owner in owners}
            there = image.split() + ["libc6"]  # which is in every image
            self.assertTrue(packages.intersection(there), library)


if __name__ == "__main__":
    unittest.main()
