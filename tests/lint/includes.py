"""Arrows between folders point one way: proto <- rules <- service; clients
know only proto, and of the rules only what checks and what measures.

Usage: includes.py ROOT
"""

import re

from sources import cpp_files, run

INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]')

# What would let the outside world into a decision.
OUTSIDE = (
    r"(grpc|grpcpp)/|sqlite3\.h|openssl/|turnstone/v1/.*\.grpc\.pb\.h|"
    r"absl/time/clock\.h|absl/(random|synchronization)/|"
    r"(chrono|thread|mutex|shared_mutex|condition_variable|future|atomic|"
    r"random|ctime|time\.h|cstdio|stdio\.h|cstdlib|fstream|iostream|"
    r"unistd\.h|csignal)$|sys/|"
    r"(platform|service|clients)/"
)

# (folder, what its files must not include, why).
BANS = (
    ("rules/", OUTSIDE, "what decides does no I/O and knows no clock"),
    ("rules/measure/", r"rules/(?!measure/)", "measure knows none"),
    ("rules/duty/", r"rules/(?!(measure|duty)/)", "duty knows measure only"),
    ("rules/engine/", r"rules/(?!(measure|duty|engine)/)",
     "the engine runs what was checked"),
    ("rules/examples/", r"rules/(?!(measure|duty|engine|examples)/)",
     "an example asks the engine, nobody else"),
    ("rules/diff/", r"rules/(?!(measure|duty|engine|diff)/)",
     "a comparison reads what the engine reads"),
    ("rules/explain/", r"rules/(?!(measure|duty|engine|examples|explain)/)",
     "an explanation asks the engine, and of steps the examples"),
    ("rules/prove/", r"rules/(?!(measure|duty|engine|prove)/)",
     "a proof asks the engine, nobody else"),
    ("rules/replay/", r"rules/(?!(measure|duty|engine|diff|replay)/)",
     "a replay asks the engine, nobody else"),
    ("platform/", r"(rules|service|clients|turnstone)/", "platform knows none "
     "of ours"),
    ("service/", r"clients/", "the service does not know its clients"),
    ("service/store/", r"rules/(engine|check)/|service/(core|rpc)/|grpc",
     "the store keeps, it does not decide"),
    ("service/core/", r"grpc|service/rpc/|turnstone/v1/.*\.grpc\.pb\.h",
     "the core does not know how it is called"),
    ("service/core/", r"curl/|service/deliver/",
     "the core does not know how its messages leave"),
    ("service/deliver/", r"grpc|sqlite3\.h|service/(rpc|store)/|"
     r"turnstone/v1/.*\.grpc\.pb\.h",
     "what delivers asks the core, and nobody else"),
    ("clients/", r"service/|sqlite3\.h", "clients know the contract only"),
    ("clients/", r"rules/(?!(check/(event_check|event_time|field_error|free_text|help|load|"
     r"noise_report|reliable_changes|suggest)|"
     r"duty/(concerns|team)|engine/(history|rule_words|series|setup)|"
     r"measure/(catalogue|proto_time|score)|"
     r"diff/(compare|fewer_safety)|examples/example_setup|prove/(big_count|proof|prove)|"
     r"replay/(difference|replay|verdict))\.h$)",
     "of the rules, clients know what checks and what measures"),
)


def lint(root):
    for path in cpp_files(root):
        name = path.relative_to(root).as_posix()
        for number, line in enumerate(path.read_text().splitlines(), 1):
            included = INCLUDE.match(line)
            if not included:
                continue
            for folder, banned, why in BANS:
                if name.startswith(folder) and re.match(
                        banned, included[1]):
                    yield (f"{name}:{number}: must not include "
                           f"{included[1]}: {why}")


if __name__ == "__main__":
    run(lint)
