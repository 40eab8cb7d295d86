"""Runs every command README.md, or another page, shows, in order, in a folder
of its own.

What the word after ```sh says:
  (none)    commands, typed one after another into the same shell
  server    a server in a window of its own; it runs until the next one starts.
            Its process id is in TURNSTONED
  stop      a command after which the server is to have stopped well
  setup     commands that build and test everything; here only their scripts
            are looked at, or this test would start itself

Usage: run_readme.py ROOT BUILD [PAGE]
"""

import os
import pathlib
import re
import signal
import subprocess
import sys
import tempfile

BLOCK = re.compile(r"^```sh ?(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
DONE = "--- all commands ended ---"


def blocks_of(text):
    return [(kind or "commands", body) for kind, body in BLOCK.findall(text)]


def check_setup(root, body):
    for line in body.splitlines():
        said = re.fullmatch(r"bash (\S+)", line.partition("#")[0].strip())
        if not said:
            sys.exit(f"a set-up command is \"bash SCRIPT\", not: {line}")
        subprocess.run(["bash", "-n", said[1]], cwd=root, check=True)


class Window:
    """A shell that stays open, as a reader's terminal does."""

    def __init__(self, folder, environment):
        self.shell = subprocess.Popen(
            ["bash", "-euo", "pipefail"], cwd=folder, env=environment,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, text=True)

    def type_in(self, commands):
        self.shell.stdin.write(f"{commands}\necho '{DONE}'\n")
        self.shell.stdin.flush()
        for line in self.shell.stdout:
            if line.rstrip("\n") == DONE:
                return
            print(line, end="")
        sys.exit(f"ended with {self.shell.wait()} in:\n{commands}")

    def close(self):
        self.shell.stdin.close()
        self.shell.wait()


class Server:
    """The command as the page has it, on a free port instead of the usual."""

    def __init__(self, folder, environment, command):
        self.process = subprocess.Popen(
            ["bash", "-c", f"exec {command.strip()} --listen 127.0.0.1:0"],
            cwd=folder, env=environment, stderr=subprocess.PIPE, text=True)
        for line in self.process.stderr:
            print(line, end="")
            serving = re.search(r'"serving","port":"(\d+)"', line)
            if serving:
                self.port = serving[1]
                return
        sys.exit("the server did not start")

    def stop(self):
        self.process.send_signal(signal.SIGTERM)
        self.wait()

    def wait(self):
        """Until it has stopped."""
        _, said = self.process.communicate()
        if self.process.returncode != 0:
            sys.exit(f"the server stopped badly:\n{said}")


def lay_out(folder, root, build):
    """The parts of a clone the commands may name, the build as "release"."""
    for name in ("rules", "deploy"):
        (folder / name).symlink_to(root / name)
    (folder / "build").mkdir()
    (folder / "build/release").symlink_to(build)


def run(folder, root, blocks):
    environment = dict(os.environ, HOME=str(folder))
    for name in ("TURNSTONE_SERVER", "TURNSTONE_AS", "TURNSTONE_PLAIN"):
        environment.pop(name, None)
    window, server = Window(folder, environment), None
    try:
        for kind, body in blocks:
            print(f"=== {kind}\n{body}", flush=True)
            if kind == "setup":
                check_setup(root, body)
            elif kind == "server":
                if server:
                    server.stop()
                server = Server(folder, environment, body)
                window.type_in(
                    f"export TURNSTONE_SERVER=127.0.0.1:{server.port} "
                    f"TURNSTONED={server.process.pid}")
            elif kind == "stop":
                window.type_in(body)
                server.wait()
                server = None
            else:
                window.type_in(body)
        if server:
            server.stop()
    finally:
        window.close()
        if server and server.process.poll() is None:
            server.process.kill()


def main():
    root, build = (pathlib.Path(arg).resolve() for arg in sys.argv[1:3])
    page = sys.argv[3] if len(sys.argv) > 3 else "README.md"
    blocks = blocks_of((root / page).read_text())
    kinds = [kind for kind, _ in blocks]
    if page == "README.md" and kinds.count("setup") != 1:
        sys.exit("README.md: one set-up block expected")
    if "server" not in kinds:
        sys.exit(f"{page}: at least one server expected")
    with tempfile.TemporaryDirectory() as folder:
        lay_out(pathlib.Path(folder), root, build)
        run(pathlib.Path(folder), root, blocks)


main()
