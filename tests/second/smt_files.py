"""The text files, as messages."""

import pathlib

from google.protobuf import text_format
from turnstone.v1 import instrument_pb2, rule_pb2, site_pb2


def read(path, message):
    return text_format.Parse(pathlib.Path(path).read_text(), message)


def read_instruments(root):
    files = sorted((root / "rules/instruments").glob("*.textproto"))
    every = (read(path, instrument_pb2.Instrument()) for path in files)
    return {instrument.id: instrument for instrument in every}


def read_rules(root):
    return read(root / "rules/packs/home-visits.textproto", rule_pb2.RuleSet())


def read_sites(root):
    files = sorted((root / "deploy/config/sites").glob("*.textproto"))
    return [read(path, site_pb2.SiteConfig()) for path in files]


def rule_of(rule_set, rule_id):
    return next(rule for rule in rule_set.rule if rule.id == rule_id)


def setting_of(rule_set, name):
    return next(each for each in rule_set.setting if each.name == name)
