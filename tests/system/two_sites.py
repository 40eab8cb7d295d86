"""Two sites with callers of every kind, their certificates, and a server that
asks for them."""

import glob
import os
import pathlib
import shutil
import subprocess

import grpc
from google.protobuf import text_format
from turnstone.v1 import duty_pb2, site_pb2

from harness import ROOT

SITES = ("pebble-bay", "harbour-row")
# Kind of caller: their role at a site. The rights of each stand in
# deploy/config/sites/pebble-bay.textproto.
ROLES = {"intake": "intake-system", "clinician": "clinician",
         "lead": "on-call-lead", "programme": "programme-lead",
         "operator": "data-steward", "auditor": "auditor"}
SYSTEMS = ("intake", "auditor")


def uri(name):
    return f"spiffe://callers.example/{name}"


def name_of(kind, site):
    """One of that kind at that site and at no other."""
    return f"{kind}-{SITES.index(site)}"


def add_callers(site):
    for kind, role in ROLES.items():
        name = name_of(kind, site.id)
        to = site.system if kind in SYSTEMS else site.person
        to.add(id=name, role=role, certificate_uri=[uri(name)])
    # The same everywhere.
    site.system.add(id="watch", role="operator", certificate_uri=[uri("watch")])
    # One that this site knows and the other does not.
    name = name_of("watch", site.id)
    site.system.add(id=name, role="operator", certificate_uri=[uri(name)])
    # Of the one site a clinician, of the other a supervisor.
    site.person.add(
        id="both", certificate_uri=[uri("both")],
        role="clinician" if site.id == SITES[0] else "supervisor")


def make_config(folder):
    """Both sites, from the demonstration's."""
    template = pathlib.Path(
        ROOT, "deploy/config/sites/pebble-bay.textproto").read_text()
    path = pathlib.Path(folder, "config/sites")
    path.mkdir(parents=True)
    for name in SITES:
        site = text_format.Parse(template, site_pb2.SiteConfig())
        site.id = name
        for role in site.role:
            if role.id == "programme-lead":
                role.may[:] = [duty_pb2.ACTIVATE_RULES]
        add_callers(site)
        (path / f"{name}.textproto").write_text(
            text_format.MessageToString(site))
    return [ROOT + "/rules", str(path.parent)]


def make_certificates(folder, callers, days=7):
    """By deploy/make_test_ca.sh."""
    subprocess.run(
        [ROOT + "/deploy/make_test_ca.sh", folder,
         *(f"{name}={uri(name)}" for name in callers)],
        env=os.environ | {"DAYS": str(days)}, check=True,
        stdout=subprocess.DEVNULL)


def every_caller():
    return [name_of(kind, site) for kind in (*ROLES, "watch")
            for site in SITES] + [
        "watch", "both", "stranger"]


def way_in(folder):
    return ["--certificate", folder + "/service.pem",
            "--client-ca", folder + "/ca.pem"]


def read(path):
    return pathlib.Path(path).read_bytes()


def credentials(folder, name, ca=None):
    pem = read(f"{folder}/{name}.pem")
    return grpc.ssl_channel_credentials(read(ca or folder + "/ca.pem"), pem,
                                        pem)


def channel(port, folder, name):
    return grpc.secure_channel(f"localhost:{port}", credentials(folder, name))


def copy_all(source, target):
    os.makedirs(target)
    for path in glob.glob(source + "/*"):
        shutil.copy(path, target)
