#!/usr/bin/env python3
"""The results of every command against data/schema/results.schema.json: results_schema_test.py ROOT PROGRAM

An independent reader (python3-jsonschema) judges. The site is drafted from the guide's table, so that the answers hold
unknown values; a second one is the demo, so that they hold numbers. Broken results must be refused, or the schema says
nothing.
"""
import copy
import json
import pathlib
import subprocess
import sys
import tempfile

try:
    import jsonschema
except ImportError:
    sys.exit(77)


def run(program, *arguments):
    done = subprocess.run([program, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False, timeout=600)
    if done.returncode not in (0, 1, 2):
        sys.exit(f"{arguments}: exit {done.returncode}: {done.stderr.decode()}")
    return json.loads(done.stdout, parse_constant=lambda word: sys.exit(f"{arguments}: {word} is no JSON"))


def broken(results):
    """Results that the schema must refuse, each with what is wrong with it."""
    def changed(what, change):
        copied = copy.deepcopy(results)
        change(copied)
        return what, copied
    chains = results["results"]["chains"]
    first = next(iter(chains[0]["links"]))
    yield changed("a verdict that is none", lambda r: r["results"]["chains"][0].update(verdict="fine"))
    yield changed("a number as text", lambda r: r["results"]["chains"][0]["links"][first]["evidence"][0].update(margin="0.1"))
    yield changed("a missing key", lambda r: r["results"].pop("counts"))
    yield changed("an unknown key", lambda r: r["results"].update(extra=1))
    yield changed("another version", lambda r: r.update(version=2))
    yield changed("a hash that is none", lambda r: r.update(site_hash="abc"))


def main(root, program):
    root = pathlib.Path(root)
    schema = json.loads((root / "data/schema/results.schema.json").read_text(encoding="utf-8"))
    validator = jsonschema.Draft202012Validator(schema)
    validator.check_schema(schema)
    faults = 0
    with tempfile.TemporaryDirectory() as scratch:
        drafted = str(pathlib.Path(scratch) / "drafted.site.json")
        table = str(root / "docs/guide/zones.csv")
        choices = ["--panel", "panel_8", "--terminal", "terminal_5v_double_5k6_pu5k6", "--unit", "unit_8_ranges_1m",
                   "--supply", "panel_supply_1a", "--battery", "battery_7ah", "--rulebook", "common_practice"]
        subprocess.run([program, "draft", table, *choices, "-o", drafted], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        demo = root / "data/demo/kiln-yard.site.json"
        sites = [drafted] + ([str(demo)] if demo.exists() else [])
        lines = [[command, site, "--json"] for site in sites for command in ("check", "prove", "levels", "supply", "faults", "sight", "remedies", "netlist")]
        lines += [["levels", site, "--condition", "mains", "--yield", "--json"] for site in sites]
        lines += [["draft", table, *choices, "--json"], ["draft", drafted, "--json"], ["prove", "nowhere", "--json"], ["parts", "--json"],
                  ["rules", "--json"], ["schema", "--field", "/zones/*/loop", "--json"], ["schema", "--field", "/zones/*/loop/eol_ohm", "--json"]]
        meter = ["--meter", "10M/1%", "--error", "0.5%+3", "--eol", "5k6/1%"]
        lines += [["terminal", "--open", "4.98V", *meter, "--json"], ["terminal", "--open", "4.98V", "--over", "5k6/1%=2.49V", *meter, "--json"],
                  ["terminal", "--open", "4.98V", "--open", "6.98V", *meter, "--json"], ["terminal", "--open", "4.98V", "--json"],
                  ["terminal", str(root / "docs/guide/old-panel.site.json"), "--json"]]
        book = ["--book", str(pathlib.Path(scratch) / "book"), "--json"]
        backup = str(pathlib.Path(scratch) / "sites.zpbook")
        corrected = str(root / "data/demo/kiln-yard-corrected.site.json")
        lines += [["book", *action, *book] for action in (
            ["import", str(demo), "--as", "yard"], ["import", corrected, "--as", "yard"], ["import", corrected, "--as", "yard"],
            ["import", str(root / "data/demo/saltmarsh.site.json")], ["list"], ["log", "yard"], ["show", "yard"],
            ["show", "yard", "--revision", "1"], ["export", "yard"], ["backup", backup], ["restore", backup], ["check"],
            ["show", "nowhere"], ["frobnicate"])]
        lines.append(["book", "restore", backup, "--book", str(pathlib.Path(scratch) / "other"), "--json"])
        for line in lines:
            results = run(program, *line)
            for fault in list(validator.iter_errors(results))[:3]:
                deepest = jsonschema.exceptions.best_match([fault])
                print(f"{' '.join(line[:2])}: /{'/'.join(map(str, deepest.absolute_path))}: {deepest.message[:300]}")
                faults += 1
            if line[0] == "prove" and "chains" in results["results"]:
                for what, wrong in broken(results):
                    if validator.is_valid(wrong):
                        print(f"the schema lets {what} pass")
                        faults += 1
    print(f"{len(lines)} results, {faults} faults")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main(*sys.argv[1:3])
