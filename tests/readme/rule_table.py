"""Holds the table of rules in README.md against the rules themselves.

Usage: rule_table.py ROOT BUILD [--write]

With --write the table is made anew instead of compared.
"""

import difflib
import pathlib
import subprocess
import sys

BEGIN = "<!-- rules: begin -->\n"
END = "<!-- rules: end -->\n"
ADVICE = "run tests/readme/rule_table.py . build/dev --write"


def described(root, build):
    return subprocess.run(
        [build / "clients/cli/turnstone", "rules", "describe", root / "rules",
         "--markdown"], check=True, text=True, stdout=subprocess.PIPE).stdout


def split(text):
    """What stands before, between and after the two markers."""
    if text.count(BEGIN) != 1 or text.count(END) != 1:
        sys.exit(f"README.md: once each, a line of its own: {BEGIN}and {END}")
    before, rest = text.split(BEGIN)
    table, after = rest.split(END)
    return before, table, after


def main():
    root, build = (pathlib.Path(arg).resolve() for arg in sys.argv[1:3])
    readme = root / "README.md"
    before, table, after = split(readme.read_text())
    # Markdown wants an empty line on either side of a table.
    wanted = f"\n{described(root, build)}\n"
    if sys.argv[3:] == ["--write"]:
        readme.write_text(before + BEGIN + wanted + END + after)
    elif table != wanted:
        sys.stdout.writelines(difflib.unified_diff(
            table.splitlines(True), wanted.splitlines(True),
            "README.md", "the rules"))
        sys.exit(f"README.md: its table is not what the rules say: {ADVICE}")


main()
