"""The files that are ours, and how a lint tells what it found."""

import pathlib
import sys

CODE_FOLDERS = ("platform", "rules", "service", "clients", "tests")


def cpp_files(root):
    for folder in CODE_FOLDERS:
        for path in sorted((root / folder).rglob("*")):
            if path.suffix in (".cc", ".h"):
                yield path


def code_files(root):
    yield from cpp_files(root)
    scripts = ("*.py", "*.sh", "CMakeLists.txt", "*.proto")
    for folder in (*CODE_FOLDERS, "proto", "deploy"):
        for pattern in scripts:
            yield from sorted((root / folder).rglob(pattern))


def run(lint):
    """Runs `lint(root)`, which yields findings, on the folder given as the
    first argument; exits with 1 if there are any."""
    findings = list(lint(pathlib.Path(sys.argv[1]).resolve()))
    for finding in findings:
        print(finding)
    if findings:
        sys.exit(f"{len(findings)} to mend")
