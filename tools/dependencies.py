#!/usr/bin/env python3
"""The direction of dependencies.

  dependencies.py check ROOT     every #include in src/ against the module list of CMakeLists.txt; exit 1 on a breach
  dependencies.py picture ROOT   the modules and what they use, as SVG on standard output (docs/dependencies.svg)
"""
import pathlib
import re
import sys


def modules(root):
    """name -> allowed modules, in the order of the house, read from CMakeLists.txt."""
    found = {}
    text = (root / "CMakeLists.txt").read_text(encoding="utf-8")
    for match in re.finditer(r"^zoneproof_module\((\w+)(?: DEPENDS ([\w ]+))?\)", text, re.M):
        name, allowed = match.group(1), (match.group(2) or "").split()
        for dependency in allowed:
            if dependency not in found:
                sys.exit(f"CMakeLists.txt: module {name} names {dependency}, which does not stand before it")
        found[name] = allowed
    return found


def includes(root):
    """(file, line number, included module) for every quoted include of another folder."""
    for path in sorted((root / "src").rglob("*.[ch]pp")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            match = re.match(r'\s*#\s*include\s+"([^"/]+)/', line)
            if match:
                yield path, number, match.group(1)


def check(root):
    allowed = modules(root)
    faults = 0
    for path, number, target in includes(root):
        module = path.relative_to(root / "src").parts[0]
        if target in ("messages", module):
            continue
        if module not in allowed:
            print(f"{path}:{number}: folder {module} is no module: name it in CMakeLists.txt")
            faults += 1
        elif target not in allowed[module]:
            print(f"{path}:{number}: {module} may not use {target}; it may use: {', '.join(allowed[module]) or 'nothing'}")
            faults += 1
    return faults


def main(verb, root):
    root = pathlib.Path(root)
    if verb == "check":
        sys.exit(1 if check(root) else 0)
    sys.exit(f"unknown verb {verb}")


if __name__ == "__main__":
    main(*sys.argv[1:3])
