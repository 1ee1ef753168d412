#!/usr/bin/env python3
"""What is documented is run.

  run_documented_commands.py check ROOT PROGRAM   runs every command of README.md and docs/guide/; exit 1 on a difference
  run_documented_commands.py fill ROOT PROGRAM    writes what the program prints now into the documents

Commands stand in fenced blocks marked `console`:

    ```console
    $ zoneproof prove data/demo/kiln-yard.site.json   # exit 1
    ...
    12 zones: 9 proven
    ```

A line that starts with `$ ` is a command (it goes on in lines that start with `> ` while it ends in a backslash); its
exit code is 0 or what `# exit N` says. The lines below it are its output, standard error included; a line of `...` alone
stands for any lines; no lines means that the output is not compared. The commands of one document run one after the
other in a copy of the tree, with `zoneproof` on the PATH. Other blocks (`sh`, say) are not run.
"""
import dataclasses
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

TIME_LIMIT_S = 300


@dataclasses.dataclass
class Command:
    line: int  # of the document, from 1
    text: str
    exit_code: int
    shown: list  # output lines in the document
    first_shown: int  # index of the first of them in the document's lines


def commands_of(lines):
    found, inside, at = [], False, 0
    while at < len(lines):
        line = lines[at]
        at += 1
        if line.startswith("```"):
            inside = not inside and line.strip() == "```console"
        elif inside and line.startswith("$ "):
            number, text = at, line[2:]
            while text.endswith("\\") and at < len(lines) and lines[at].startswith("> "):
                text = text[:-1] + lines[at][2:]
                at += 1
            note = re.search(r"\s+# exit (\d+)\s*$", text)
            found.append(Command(number, text[:note.start()] if note else text, int(note.group(1)) if note else 0, [], at))
        elif inside and found:
            found[-1].shown.append(line)
    return found


def matches(shown, actual):
    """Whether the lines shown, with `...` for any lines, are the actual ones."""
    if not shown:
        return not actual
    if shown[0] == "...":
        return any(matches(shown[1:], actual[skip:]) for skip in range(len(actual) + 1))
    return bool(actual) and shown[0] == actual[0] and matches(shown[1:], actual[1:])


def run(command, folder, environment):
    done = subprocess.run(["bash", "-o", "pipefail", "-c", command.text], cwd=folder, env=environment, timeout=TIME_LIMIT_S,
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    return done.returncode, trimmed(done.stdout.decode("utf-8", "replace").splitlines())


def trimmed(lines):
    lines = [line.rstrip() for line in lines]
    while lines and not lines[-1]:
        lines.pop()
    return lines


def faults_of(document, root, program):
    """Runs a document's commands: how many there are, (command, what is wrong, actual output) of those that differ."""
    commands, faults = commands_of(document.read_text(encoding="utf-8").splitlines()), []
    with tempfile.TemporaryDirectory() as scratch:
        scratch = pathlib.Path(scratch)
        folder, on_path = scratch / "zoneproof", scratch / "bin"
        shutil.copytree(root, folder, ignore=shutil.ignore_patterns("build", ".git", "node_modules"))
        on_path.mkdir()
        (on_path / "zoneproof").symlink_to(program.resolve())
        environment = {**os.environ, "ZONEPROOF_LANGUAGE": "", "PATH": f"{on_path}:{os.environ['PATH']}", "NO_COLOR": "1", "COLUMNS": "100"}
        for command in commands:
            code, actual = run(command, folder, environment)
            if code != command.exit_code:
                faults.append((command, f"exit code {code}, documented is {command.exit_code}", actual))
            elif command.shown and not matches(trimmed(command.shown), actual):
                faults.append((command, "other output than documented", actual))
    return len(commands), faults


def documents(root):
    return [root / "README.md", *sorted((root / "docs" / "guide").glob("*.md"))]


def check(root, program):
    total = wrong = 0
    for document in documents(root):
        count, faults = faults_of(document, root, program)
        total, wrong = total + count, wrong + len(faults)
        for command, what, actual in faults:
            print(f"{document.relative_to(root)}:{command.line}: {what}\n  $ {command.text}")
            print("\n".join("  | " + line for line in actual))
    print(f"{total} documented commands, {wrong} differ")
    return wrong == 0


def fill(root, program):
    for document in documents(root):
        lines = document.read_text(encoding="utf-8").splitlines()
        _, faults = faults_of(document, root, program)
        for command, what, actual in reversed(faults):
            print(f"{document.relative_to(root)}:{command.line}: {what}")
            if command.shown:
                lines[command.first_shown:command.first_shown + len(command.shown)] = actual
        document.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return True


def main(verb, root, program):
    verbs = {"check": check, "fill": fill}
    if verb not in verbs:
        sys.exit(__doc__)
    sys.exit(0 if verbs[verb](pathlib.Path(root), pathlib.Path(program)) else 1)


if __name__ == "__main__":
    main(*sys.argv[1:4])
