#!/usr/bin/env python3
"""The tests of the book on PostgreSQL: on_postgresql.py BOOK_TESTS [gtest's options]

Starts a server of its own, as a user without rights (it refuses root), in a temporary folder, on a socket there and on no
network. Exit code 77 (skipped) where PostgreSQL is not installed.
"""
import os
import pathlib
import pwd
import shutil
import subprocess
import sys
import tempfile


def programs():
    """The folder of the newest server that is installed: Debian keeps it out of the path."""
    found = sorted(pathlib.Path("/usr/lib/postgresql").glob("*/bin/postgres"), key=lambda p: int(p.parts[-3]))
    return found[-1].parent if found else None


def unprivileged():
    """How to run something as somebody without rights: (options of subprocess, user's name)."""
    if os.getuid() != 0:
        return {}, pwd.getpwuid(os.getuid()).pw_name
    for name in ("postgres", "nobody"):
        try:
            user = pwd.getpwnam(name)
        except KeyError:
            continue
        return {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}, name
    return None, None


class Server:
    def __init__(self, folder, bin_folder, options, user):
        self.folder, self.bin, self.options = folder, bin_folder, options
        self.data = folder / "data"
        if "user" in options:
            shutil.chown(folder, user)
        os.chmod(folder, 0o755)
        self.run("initdb", "-D", self.data, "-U", "zoneproof", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync")
        settings = f"-c listen_addresses='' -c unix_socket_directories='{folder}' -c max_connections=20"
        self.run("pg_ctl", "start", "-w", "-D", self.data, "-l", folder / "log", "-o", settings)

    def run(self, program, *arguments):
        done = subprocess.run([self.bin / program, *map(str, arguments)], cwd=self.folder, stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False, **self.options)
        if done.returncode != 0:
            sys.exit(f"{program} failed:\n{done.stdout.decode('utf-8', 'replace')}")

    def stop(self):
        self.run("pg_ctl", "stop", "-w", "-m", "immediate", "-D", self.data)

    def connection(self):
        return f"host={self.folder} user=zoneproof dbname=postgres"


def main(tests, *options):
    bin_folder = programs()
    how, user = unprivileged()
    if bin_folder is None or how is None:
        print("PostgreSQL is not installed, or nobody without rights is there to run it")
        sys.exit(77)
    # A path of a socket has some hundred characters at most.
    with tempfile.TemporaryDirectory(dir="/tmp", prefix="zp-pg-") as folder:
        server = Server(pathlib.Path(folder), bin_folder, how, user)
        try:
            environment = {**os.environ, "ZONEPROOF_TEST_POSTGRESQL": server.connection()}
            arguments = list(options) or ["--gtest_filter=*/postgresql*"]
            code = subprocess.run([tests, "--gtest_brief=1", *arguments], env=environment, check=False).returncode
        finally:
            server.stop()
    sys.exit(code)


if __name__ == "__main__":
    main(*sys.argv[1:])
