"""Certificates made for one run of a test, with the openssl command."""

import pathlib
import subprocess

KEY = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"]
# What `openssl ca` must be told to date a certificate in the past.
AUTHORITY = """
[ca]
default_ca = here
[here]
database = {folder}/index.txt
new_certs_dir = {folder}
rand_serial = yes
default_md = sha256
policy = any
copy_extensions = copy
unique_subject = no
[any]
commonName = supplied
"""


class Authority:
    """Signs certificates. `pem` is its own."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.folder.mkdir()
        (self.folder / "index.txt").write_text("")
        self.settings = self.folder / "ca.cnf"
        self.settings.write_text(AUTHORITY.format(folder=self.folder))
        self.pem = self.folder / "ca.pem"
        self.key = self.folder / "ca.key"
        self._openssl("req", "-x509", *KEY, "-days", "2",
                      "-subj", "/CN=Test authority",
                      "-keyout", self.key, "-out", self.pem)

    def certify(self, name, expired=False):
        """Files with the certificate for host `name` and its key."""
        stem = self.folder / f"{name}{'-expired' if expired else ''}"
        key, pem = stem.with_suffix(".key"), stem.with_suffix(".crt")
        self._openssl("req", "-new", *KEY, "-subj", f"/CN={name}",
                      "-addext", f"subjectAltName=DNS:{name}",
                      "-keyout", key, "-out", stem.with_suffix(".csr"))
        dates = (["-startdate", "20200101000000Z",
                  "-enddate", "20200102000000Z"] if expired
                 else ["-days", "2"])
        self._openssl("ca", "-batch", "-notext", "-config", self.settings,
                      "-cert", self.pem, "-keyfile", self.key, *dates,
                      "-in", stem.with_suffix(".csr"), "-out", pem)
        return pem, key

    @staticmethod
    def _openssl(*arguments):
        done = subprocess.run(["openssl", *map(str, arguments)],
                              capture_output=True, text=True)
        if done.returncode != 0:
            raise AssertionError(f"openssl {arguments[0]}: {done.stderr}")
