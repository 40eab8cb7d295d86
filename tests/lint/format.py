"""Layout as .clang-format says. Usage: format.py ROOT"""

import subprocess

from sources import cpp_files, run


def lint(root):
    files = [str(path) for path in cpp_files(root)]
    if not files:
        yield "no source found: is this the root of the repository?"
        return
    checked = subprocess.run(
        ["clang-format", "--dry-run", "-Werror", "-style=file", *files],
        cwd=root, capture_output=True, text=True, check=False)
    if checked.returncode != 0:
        yield checked.stderr
        yield "run clang-format -i on the files named above"


if __name__ == "__main__":
    run(lint)
