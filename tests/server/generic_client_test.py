#!/usr/bin/env python3
"""The server by a client that has nothing but data/api/openapi.json: generic_client_test.py SOURCE PROGRAM BUILD.

Starts the program with a book of its own on the loopback address and runs generic_client.test.mjs against it. Exit 77 where
Node is missing.
"""
import os
import pathlib
import shutil
import subprocess
import sys

from running import Server

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "browser"))
from libraries import installed  # noqa: E402


def main():
    source, program, build = (str(pathlib.Path(one).resolve()) for one in sys.argv[1:4])
    if shutil.which("npm") is None or shutil.which("node") is None:
        print("Node with npm is not installed")
        return 77
    libraries = str(installed(build))
    with Server(program) as server:
        environment = dict(os.environ, ZONEPROOF_SOURCE=source, ZONEPROOF_LIBRARIES=libraries,
                           ZONEPROOF_SERVER=f"http://127.0.0.1:{server.port}")
        status = subprocess.run(["node", "--test", "generic_client.test.mjs"], cwd=HERE, env=environment, check=False).returncode
        ended, said = server.end()
        if ended != 0:
            print(f"the server ended with {ended}: {said}")
        return status or ended


sys.exit(main())
