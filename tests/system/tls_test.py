"""The encrypted way in: who is turned away at the door, and certificates that
change while the service works. Certificates by deploy/make_test_ca.sh, and
openssl where one must be wrong."""

import pathlib
import socket
import ssl
import subprocess
import threading
import unittest

import grpc
from grpc import StatusCode
from turnstone.v1 import service_pb2, service_pb2_grpc

import two_sites
from two_sites import SITES, channel, credentials, name_of, read, uri
from harness import DEADLINE, SystemTest, phq9, run_turnstone, until

INTAKE = name_of("intake", SITES[0])
CLINICIAN = name_of("clinician", SITES[0])


class TlsTest(SystemTest):
    def setUp(self):
        super().setUp()
        self.keys = self.folder + "/keys"
        two_sites.make_certificates(self.keys, [INTAKE, CLINICIAN,
                                                   "stranger"])
        self.server = self.serve(config=two_sites.make_config(self.folder),
                                 way_in=two_sites.way_in(self.keys))

    def issue(self, name, extension, *how):
        """A client certificate as the authority would not make it."""
        key, pem = f"{self.keys}/{name}.key", f"{self.keys}/{name}.pem"
        extensions = pathlib.Path(self.folder, "extensions")
        extensions.write_text(extension + "\n")
        subprocess.run(
            ["openssl", "req", "-new", "-newkey", "ec", "-pkeyopt",
             "ec_paramgen_curve:P-256", "-nodes", "-keyout", key, "-out",
             key + ".request", "-subj", "/CN=" + name], check=True,
            capture_output=True)
        subprocess.run(
            ["openssl", "x509", "-req", "-in", key + ".request", "-CA",
             self.keys + "/ca.pem", "-CAkey", self.keys + "/ca-key.pem",
             "-extfile", str(extensions), "-out", pem,
             *(how or ("-days", "2"))], check=True, capture_output=True)
        pathlib.Path(pem).write_bytes(read(pem) + read(key))

    def clock(self, with_what):
        """Asks for the time; an error says how it was refused."""
        with grpc.secure_channel(f"localhost:{self.server.port}",
                                 with_what) as one:
            return service_pb2_grpc.ClockServiceStub(one).GetClock(
                service_pb2.GetClockRequest(), timeout=DEADLINE)

    def test_only_with_a_certificate_of_the_authority(self):
        ca = self.keys + "/ca.pem"
        self.clock(credentials(self.keys, INTAKE))
        other = self.folder + "/other"
        two_sites.make_certificates(other, [INTAKE])
        self.issue("expired", "subjectAltName=URI:" + uri(INTAKE), "-days",
                   "-1")
        self.issue("for-servers", "subjectAltName=URI:" + uri(INTAKE) +
                   "\nextendedKeyUsage=serverAuth")
        refused = {
            "none": grpc.ssl_channel_credentials(read(ca)),
            "another authority's": credentials(other, INTAKE, ca),
            "expired": credentials(self.keys, "expired"),
            "a server's": credentials(self.keys, "for-servers"),
        }
        for what, with_what in refused.items():
            with self.subTest(certificate=what):
                self.assertRefused(StatusCode.UNAVAILABLE, "", self.clock,
                                   with_what)
        with grpc.insecure_channel(f"localhost:{self.server.port}") as plain:
            self.assertRefused(
                StatusCode.UNAVAILABLE, "",
                service_pb2_grpc.ClockServiceStub(plain).GetClock,
                service_pb2.GetClockRequest(), timeout=DEADLINE)

    def test_only_with_a_uri_that_a_site_has(self):
        self.assertRefused(
            StatusCode.PERMISSION_DENIED,
            f"no site's file has the certificate of {uri('stranger')}",
            self.clock, credentials(self.keys, "stranger"))
        self.issue("no-uri", "subjectAltName=DNS:intake.example")
        self.issue("two-uris", f"subjectAltName=URI:{uri(INTAKE)},"
                   f"URI:{uri(CLINICIAN)}")
        self.issue("case", "subjectAltName=URI:" + uri(INTAKE).upper())
        for name, code in (("no-uri", StatusCode.UNAUTHENTICATED),
                           ("two-uris", StatusCode.UNAUTHENTICATED),
                           ("case", StatusCode.PERMISSION_DENIED)):
            with self.subTest(certificate=name):
                self.assertRefused(code, "", self.clock,
                                   credentials(self.keys, name))

    def test_not_below_tls_1_2(self):
        def shake_hands(version):
            how = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
            how.load_verify_locations(self.keys + "/ca.pem")
            how.load_cert_chain(f"{self.keys}/{INTAKE}.pem")
            how.set_alpn_protocols(["h2"])
            how.set_ciphers("ALL:@SECLEVEL=0")
            how.minimum_version = how.maximum_version = version
            with socket.create_connection(
                    ("localhost", self.server.port)) as tcp:
                with how.wrap_socket(tcp, server_hostname="localhost") as tls:
                    return tls.version()
        self.assertEqual(shake_hands(ssl.TLSVersion.TLSv1_2), "TLSv1.2")
        self.assertEqual(shake_hands(ssl.TLSVersion.TLSv1_3), "TLSv1.3")
        for old in (ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1):
            with self.assertRaises(OSError):
                shake_hands(old)

    def served_certificate(self):
        how = ssl.create_default_context(cafile=self.keys + "/ca.pem")
        how.load_cert_chain(f"{self.keys}/{INTAKE}.pem")
        with socket.create_connection(("localhost", self.server.port)) as tcp:
            with how.wrap_socket(tcp, server_hostname="localhost") as tls:
                return tls.getpeercert(True)

    def test_renewed_under_load(self):
        """New certificates take over without a restart; nothing is lost."""
        enough = threading.Event()
        failed, sent = [], {"kept": 0, "anew": 0}

        def submit(one, number, name):
            service_pb2_grpc.EventServiceStub(one).Submit(
                service_pb2.SubmitRequest(
                    event=phq9(f"{name}-{number}", [0] * 9, name)),
                timeout=DEADLINE)
            sent[name] += 1

        def keep_sending(name, one):
            while not enough.is_set():
                try:
                    if one:
                        submit(one, sent[name], name)
                    else:
                        with channel(self.server.port, self.keys,
                                     INTAKE) as fresh:
                            submit(fresh, sent[name], name)
                except grpc.RpcError as error:
                    failed.append(f"{name}: {error}")
                    return
        kept = channel(self.server.port, self.keys, INTAKE)
        self.addCleanup(kept.close)
        threads = [threading.Thread(target=keep_sending, args=arguments)
                   for arguments in (("kept", kept), ("anew", None))]
        for thread in threads:
            thread.start()
        self.addCleanup(enough.set)
        before = self.served_certificate()
        two_sites.make_certificates(self.keys, [INTAKE])

        def renewed():
            return self.served_certificate() != before
        until(renewed)
        goal = {name: number + 3 for name, number in sent.items()}

        def went_on():
            return failed or all(sent[name] >= goal[name] for name in goal)
        until(went_on)
        enough.set()
        for thread in threads:
            thread.join()
        self.assertEqual(failed, [])

    def test_callers_authority_is_replaced(self):
        """Whoever has a certificate of the old one is turned away."""
        self.clock(credentials(self.keys, INTAKE))
        other = self.folder + "/other"
        two_sites.make_certificates(other, [INTAKE])
        old, new = self.keys + "/ca.pem", self.folder + "/old-ca.pem"
        pathlib.Path(new).write_bytes(read(old))
        pathlib.Path(other + "/ca.pem").rename(old)
        # The service's own certificate is still the old authority's.

        def turned_away():
            try:
                self.clock(credentials(self.keys, INTAKE, new))
                return False
            except grpc.RpcError:
                return True
        until(turned_away)
        self.clock(credentials(other, INTAKE, new))

    def test_files_that_cannot_be_used_stop_the_start(self):
        for what, way_in in {
                "cannot": ["--certificate", "/nowhere.pem", "--client-ca",
                           self.keys + "/ca.pem"],
                "is not the key": [
                    "--certificate", self.keys + "/service.pem", "--key",
                    f"{self.keys}/{INTAKE}.pem", "--client-ca",
                    self.keys + "/ca.pem"],
                "holds no private key": [
                    "--certificate", self.keys + "/ca.pem", "--client-ca",
                    self.keys + "/ca.pem"]}.items():
            with self.subTest(what):
                server = self.serve(self.folder + "/other-data", start=False,
                                    way_in=way_in)
                self.assertEqual(server.finish(), 1)
                self.assertIn("cannot start", server.raw)

    def test_plain_must_be_asked_for_and_stays_on_this_machine(self):
        for way_in, listen in (([], None), (["--plain"], "0.0.0.0:0"),
                               (["--plain", *two_sites.way_in(self.keys)],
                                None)):
            server = self.serve(self.folder + "/other-data", start=False,
                                listen=listen, way_in=way_in)
            self.assertEqual(server.finish(), 2, server.raw)
        server = self.serve(self.folder + "/other-data")
        self.assertIn("nothing is encrypted or proven", server.raw)

    def test_client_program(self):
        at = ["--server", f"localhost:{self.server.port}"]
        tls = ["--ca", self.keys + "/ca.pem", "--certificate",
               f"{self.keys}/{CLINICIAN}.pem"]
        shown = run_turnstone(*at, *tls, "alerts")
        self.assertEqual(shown.returncode, 0, shown.stderr)
        # Not one whose certificate is for another name.
        self.assertEqual(
            run_turnstone("--server", f"127.0.0.2:{self.server.port}", *tls,
                          "alerts").returncode, 3)
        unsaid = run_turnstone(*at, "alerts")
        self.assertEqual(unsaid.returncode, 2)
        self.assertIn("write --ca and --certificate", unsaid.stderr)


if __name__ == "__main__":
    unittest.main()
