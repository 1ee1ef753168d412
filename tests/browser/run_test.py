#!/usr/bin/env python3
"""The page in Chromium against the server: run_test.py ROOT PROGRAM BUILD [FILES...].

Starts the program with a book of its own on a free port of this machine and runs the tests of this folder against it.
Exit 77 where Node or Chromium are missing.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

from libraries import installed

root, program, build = map(pathlib.Path, sys.argv[1:4])
here = root / "tests" / "browser"
files = sys.argv[4:] or sorted(path.name for path in here.glob("*.test.mjs"))


def main():
    if shutil.which("npm") is None or shutil.which("chromium") is None:
        print("Node with npm, or chromium, is not installed")
        return 77
    modules, fetched = here / "node_modules", installed(build) / "node_modules"
    if modules.is_symlink() and modules.resolve() != fetched:  # of another build
        modules.unlink()
    if not modules.exists():
        modules.symlink_to(fetched, target_is_directory=True)
    with tempfile.TemporaryDirectory() as folder:
        server = subprocess.Popen([program, "serve", "--port", "0", "--book", pathlib.Path(folder) / "book"],
                                  stdout=subprocess.PIPE, text=True)
        try:
            said = ""
            for line in server.stdout:
                said = re.search(r"http://127\.0\.0\.1:\d+", line)
                if said:
                    break
            if not said:
                print("the server did not say where the page is")
                return 1
            environment = dict(os.environ, ZONEPROOF_PAGE=said[0], ZONEPROOF_PROGRAM=str(program.resolve()))
            done = subprocess.run(["node", "--test", "--test-concurrency=1", *files], cwd=here, env=environment, check=False)
            return done.returncode
        finally:
            server.terminate()
            server.wait(timeout=30)


sys.exit(main())
