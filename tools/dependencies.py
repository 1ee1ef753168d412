#!/usr/bin/env python3
"""The direction of dependencies.

  dependencies.py check ROOT     every #include in src/ against the module list of CMakeLists.txt; exit 1 on a breach
  dependencies.py picture ROOT   draws the modules and what they may use into docs/dependencies.svg
  dependencies.py current ROOT   exit 1 where that picture is not what `picture` would draw
"""
import pathlib
import re
import sys


def modules(root):
    """name -> allowed modules, in the order of the house, read from CMakeLists.txt."""
    found = {}
    text = (root / "CMakeLists.txt").read_text(encoding="utf-8")
    for match in re.finditer(r"^ *zoneproof_module\((\w+)(?: DEPENDS ([\w ]+))?\)", text, re.M):
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


# --- the picture -------------------------------------------------------------------------------------------------
# Modules stand in layers, each above all it may use. Lines are drawn only where nothing between implies them; every
# box names all that its module may use, so that the picture says the whole truth.

NAME_SIZE, TEXT_SIZE = 16, 12
LETTER = 0.62  # width of a letter of the monospaced face, in font sizes
BOX_HEIGHT, LAYER_STEP, GAP, MARGIN = 70, 122, 36, 28

STYLE = """
    .ground { fill: #ffffff; }
    .box { fill: #f2f5f7; stroke: #44606e; stroke-width: 1.5; }
    .line { fill: none; stroke: #44606e; stroke-width: 1.5; }
    .tip { fill: #44606e; }
    text { font-family: "DejaVu Sans Mono", monospace; fill: #14222a; }
    .quiet { fill: #3f5662; }
    @media (prefers-color-scheme: dark) {
      .ground { fill: #12191d; }
      .box { fill: #1d282e; stroke: #8fb0bf; }
      .line { stroke: #8fb0bf; }
      .tip { fill: #8fb0bf; }
      text { fill: #eaf1f4; }
      .quiet { fill: #b4c8d1; }
    }
"""


def layers(allowed):
    """The modules by height: one step above the highest of what they may use."""
    height = {}
    for name, below in allowed.items():
        height[name] = 1 + max((height[other] for other in below), default=-1)
    return [[name for name in allowed if height[name] == level] for level in range(max(height.values()) + 1)]


def direct(allowed, name):
    """What `name` may use that nothing else it may use implies."""
    implied = {deeper for other in allowed[name] for deeper in allowed[other]}
    return [other for other in allowed[name] if other not in implied]


def phrase(root, name):
    """What a module is about: the heading of its README is "# name: phrase"."""
    readme = root / "src" / name / "README.md"
    first = readme.read_text(encoding="utf-8").splitlines()[0] if readme.exists() else ""
    match = re.fullmatch(rf"# {name}: (.+)", first)
    if not match:
        sys.exit(f"{readme}: must begin with the line \"# {name}: what it is about\"")
    return match.group(1)


def box_texts(root, allowed, name):
    uses = "uses " + ", ".join(allowed[name]) if allowed[name] else "uses none of these"
    return [(name, NAME_SIZE, ""), (phrase(root, name), TEXT_SIZE, "quiet"), (uses, TEXT_SIZE, "quiet")]


def place(root, allowed):
    """name -> (x, y, width), and the width and height of the whole. What everything stands on is at the bottom."""
    rows = layers(allowed)
    width = {name: max(len(text) * size * LETTER for text, size, _ in box_texts(root, allowed, name)) + 28
             for name in allowed}
    spans = [sum(width[name] for name in row) + GAP * (len(row) - 1) for row in rows]
    total = max(spans) + 2 * MARGIN
    boxes = {}
    for level, row in enumerate(rows):
        x, y = (total - spans[level]) / 2, MARGIN + (len(rows) - 1 - level) * LAYER_STEP
        for name in row:
            boxes[name] = (x, y, width[name])
            x += width[name] + GAP
    return boxes, total, 2 * MARGIN + (len(rows) - 1) * LAYER_STEP + BOX_HEIGHT


def lines(allowed, boxes):
    """From the bottom of each box to the top of what it uses, side by side where several end in one box."""
    users = {name: [other for other in allowed if name in direct(allowed, other)] for name in allowed}
    for name in allowed:
        below = sorted(direct(allowed, name), key=lambda other: boxes[other][0])
        for index, other in enumerate(below):
            x, y, width = boxes[name]
            to_x, to_y, to_width = boxes[other]
            above = sorted(users[other], key=lambda user: boxes[user][0])
            start = (x + width * (index + 1) / (len(below) + 1), y + BOX_HEIGHT)
            end = (to_x + to_width * (above.index(name) + 1) / (len(above) + 1), to_y - 7)
            yield start, end


def picture(root):
    allowed = modules(root)
    boxes, width, height = place(root, allowed)
    out = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" width="{width:.0f}" '
           f'height="{height:.0f}" role="img" aria-label="The modules of src/ and what each may use">',
           "  <!-- Drawn by tools/dependencies.py. Do not edit. -->", f"  <style>{STYLE}  </style>",
           f'  <rect class="ground" width="{width:.0f}" height="{height:.0f}"/>']
    for (x1, y1), (x2, y2) in lines(allowed, boxes):
        half = (y2 - y1) / 2
        out.append(f'  <path class="line" d="M{x1:.1f} {y1:.1f} C{x1:.1f} {y1 + half:.1f} {x2:.1f} {y2 - half:.1f} '
                   f'{x2:.1f} {y2:.1f}"/>')
        out.append(f'  <path class="tip" d="M{x2 - 5:.1f} {y2 - 2:.1f} h10 l-5 9 z"/>')
    for name, (x, y, box_width) in boxes.items():
        out.append(f'  <rect class="box" x="{x:.1f}" y="{y:.1f}" width="{box_width:.1f}" height="{BOX_HEIGHT}" rx="4"/>')
        for row, (text, size, kind) in enumerate(box_texts(root, allowed, name)):
            style = f' class="{kind}"' if kind else ' font-weight="bold"'
            out.append(f'  <text x="{x + box_width / 2:.1f}" y="{y + 22 + row * 19:.1f}" text-anchor="middle" '
                       f'font-size="{size}"{style}>{text}</text>')
    return "\n".join(out + ["</svg>", ""])


def main(verb, root):
    root = pathlib.Path(root)
    drawing = root / "docs" / "dependencies.svg"
    if verb == "check":
        sys.exit(1 if check(root) else 0)
    if verb == "picture":
        drawing.write_text(picture(root), encoding="utf-8")
    elif verb == "current":
        if not drawing.exists() or drawing.read_text(encoding="utf-8") != picture(root):
            sys.exit("docs/dependencies.svg is not current: run tools/dependencies.py picture .")
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main(*sys.argv[1:3])
