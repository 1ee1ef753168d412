#!/usr/bin/env python3
"""Plans, expected pictures and alarms in time of the demo sites against reference pictures: reference_test.py ROOT PROGRAM

A reference (tests/sheets/reference/NAME.pgm) is the drawing as an eye sees it at a glance: means of blocks of 14 dots. What moves by a
hair, and the title's hash, does not show in it; a wall, a hatch or a person that is lost does. After a change that is meant, look at
the new drawings, then run with ZONEPROOF_WRITE_REFERENCES=1.
"""
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "drawing"))
import pictures  # noqa: E402

# Of 255: hash and revision in the title block change a few blocks by up to 90; a lost hatch changes hundreds by 40.
MOST_MEAN, MOST_BLOCKS = 0.4, 0.004
CLEARLY = 30


def run(program, *command):
    done = subprocess.run([program, *map(str, command)], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False, timeout=600)
    if done.returncode not in (0, 1):
        sys.exit(f"{' '.join(map(str, command))}: exit {done.returncode}: {done.stderr.decode()}")


def draw_sight(program, site, folder):
    """Plans and expected pictures of a site by name."""
    views = folder / "views"
    run(program, "sight", site, "--plan", folder / "plan.png", "--pictures", views)
    return [*folder.glob("plan*.png"), *views.glob("*.png")]


def draw_alarm(program, site, folder):
    run(program, "clip", site, "--zone", "4", "--drawing", folder / "alarm.png")
    return folder.glob("alarm*.png")


WANTED = (("kiln-yard", draw_sight, ("plan", "c_store", "c_shop")), ("tern-hollow", draw_sight, ("plan-2",)),
          ("kiln-yard-corrected", draw_alarm, ("alarm",)))


def read_pgm(path):
    magic, width, height, most = path.read_bytes().split(maxsplit=4)[:4]
    assert magic == b"P5" and most == b"255"
    width, height = int(width), int(height)
    data = path.read_bytes()[-width * height:]
    return [list(data[i * width:(i + 1) * width]) for i in range(height)]


def write_pgm(path, rows):
    path.parent.mkdir(exist_ok=True)
    head = f"P5\n{len(rows[0])} {len(rows)}\n255\n".encode()
    path.write_bytes(head + bytes(round(value) for row in rows for value in row))


def fault_of(seen, known):
    if len(seen) != len(known) or len(seen[0]) != len(known[0]):
        return "another size"
    off = [abs(a - b) for p, q in zip(seen, known) for a, b in zip(p, q)]
    mean, clear = sum(off) / len(off), sum(value > CLEARLY for value in off) / len(off)
    if mean > MOST_MEAN or clear > MOST_BLOCKS:
        return f"differs by {mean:.2f} of 255 in the mean, clearly in {100 * clear:.2f} % of the blocks"
    return None


def main(root, program):
    root, faults, count = pathlib.Path(root), 0, 0
    folder = root / "tests" / "sheets" / "reference"
    write = os.environ.get("ZONEPROOF_WRITE_REFERENCES") == "1"
    for name, draw, wanted in WANTED:
        with tempfile.TemporaryDirectory() as scratch:
            drawn = draw(program, root / "data" / "demo" / f"{name}.site.json", pathlib.Path(scratch))
            drawn = {path.stem: path for path in drawn}
            for one in wanted:
                seen = pictures.blocks(pictures.png(drawn[one]))
                reference = folder / f"{name}-{one}.pgm"
                count += 1
                if write:
                    write_pgm(reference, seen)
                    continue
                known = read_pgm(reference)
                fault = fault_of(seen, known)
                # The test must be able to fail: a picture without its darkest rows is another one.
                lost = [row if i % 3 else [255.0] * len(row) for i, row in enumerate(seen)]
                if fault_of(lost, known) is None:
                    fault = "a drawing with every third row lost passes for it"
                if fault:
                    print(f"{reference.name}: {fault}")
                    faults += 1
    print(f"{count} drawings, {faults} faults")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main(*sys.argv[1:3])
