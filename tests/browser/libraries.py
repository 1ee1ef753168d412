"""The libraries of package.json beside this file, for tests that run in Node."""
import fcntl
import pathlib
import shutil
import subprocess

HERE = pathlib.Path(__file__).resolve().parent
LOCK = "package-lock.json"


def installed(build):
    """The folder that holds node_modules, below the build: the sources stay as they are. Fetched where they are missing or others."""
    place = pathlib.Path(build).resolve() / "libraries_of_node_tests"
    place.mkdir(exist_ok=True)
    there = place / "there.json"  # the lock of what was fetched, written when all of it was
    with open(place / "one_at_a_time", "w", encoding="utf-8") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not there.exists() or there.read_bytes() != (HERE / LOCK).read_bytes():
            for name in ("package.json", LOCK):
                shutil.copy(HERE / name, place / name)
            subprocess.run(["npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"], cwd=place, check=True)
            shutil.copy(HERE / LOCK, there)
    return place
