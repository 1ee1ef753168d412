#!/usr/bin/env python3
"""Write the computed files of the parts shelf: cables.json, resistors.json, zone_terminals.json, lenses.json,
cameras.json, and the patterns in detectors.json.

    python3 tools/make_parts.py data/parts            write them
    python3 tools/make_parts.py data/parts --check    exit 1 when a file differs from what would be written

Only what follows from a table or a formula is made here; the other files of the shelf are written by hand, and so is
what detectors.json says beside the patterns. The tables, the formulas and where they come from:
docs/methods/conductors.md, sight_parts.py. tests/published/ holds the written files
against the published values, so a slip here does not go unseen.
"""
import json
import pathlib
import sys

import sight_parts

SHELF_VERSION = "2026.3"
GENERIC = "generic data sheet of the parts shelf"


# --- writing -----------------------------------------------------------------------------------------------------

def figures(value, digits=5):
    """Rounded to significant digits, and a whole number where it is one, so that the file reads like a data sheet."""
    rounded = float(f"{value:.{digits}g}")
    return int(rounded) if rounded == int(rounded) else rounded


def written(node, indent=0, width=116):
    """JSON with short objects on one line: a part reads like a table and a change shows as one line."""
    line = json.dumps(node, ensure_ascii=False)
    if indent + len(line) <= width and indent > 4 or not isinstance(node, (dict, list)) or not node:
        return line
    pad = " " * (indent + 2)
    if isinstance(node, list):
        return "[\n" + ",\n".join(pad + written(item, indent + 2) for item in node) + "\n" + " " * indent + "]"
    rows = [f"{pad}{json.dumps(key)}: {written(value, indent + 2)}" for key, value in node.items()]
    return "{\n" + ",\n".join(rows) + "\n" + " " * indent + "}"


def shelf_file(parts):
    return written({"format": "zoneproof-parts", "version": 3, "shelf_version": SHELF_VERSION, "parts": parts}) + "\n"


# --- cables ------------------------------------------------------------------------------------------------------

RESISTIVITY = 1000.0 / 58.0     # ohm mm2 / km, annealed copper at 20 degC, IEC 60028
COPPER_PPM_K = 3930             # IEC 60028: 0.00393 / K at 20 degC
CLAD_PPM_K = 4000               # from memory, between copper 3930 and aluminium 4030
THICKER = 0.95                  # a conductor may hold up to 5 % more metal than its name says
ASTM_DIAMETER_PCT = 1.0         # tolerance on the diameter of a solid wire, hence 2 % on its resistance
KFT_PER_KM = 1.0 / 0.3048

# IEC 60228:2004, largest resistance at 20 degC in ohm/km: size -> (class 1 and 2 plain, class 5 plain, class 5 tinned)
IEC_60228 = {"0.5": (36.0, 39.0, 40.1), "0.75": (24.5, 26.0, 26.7), "1.0": (18.1, 19.5, 20.0),
             "1.5": (12.1, 13.3, 13.7), "2.5": (7.41, 7.98, 8.21)}
# Below 0.5 mm2, from a page that quotes DIN VDE 0295.
VDE_0295 = {"0.22": 96.0, "0.25": 76.0, "0.34": 53.0}
# NEC chapter 9 table 8, 75 degC, ohm/kft, seven strands: AWG -> (uncoated, coated)
NEC_TABLE_8 = {18: (7.95, 8.45), 16: (4.99, 5.29), 14: (3.14, 3.26), 12: (1.98, 2.05), 10: (1.24, 1.29)}
NEC_TO_20 = 1.0 + 0.00323 * (20.0 - 75.0)


def awg_mm2(gauge):
    diameter = 0.127 * 92.0 ** ((36 - gauge) / 39.0)
    return 3.14159265358979 / 4.0 * diameter * diameter


def cable(name, source, low, nominal, high, cores, *, mm2=None, awg=None, material="copper", origin="standard",
          tempco=COPPER_PPM_K, note=""):
    part = {"name": name, "kind": "cable", "source": source, "origin": origin}
    if note:
        part["note"] = note
    spec = {"material": material, "cores": cores}
    if mm2 is not None:
        spec["conductor_mm2"] = figures(mm2)
    if awg is not None:
        spec["conductor_awg"] = awg
    spec["resistance_ohm_per_km"] = {"value": figures(nominal), "min": figures(low), "max": figures(high),
                                     "tempco_ppm_K": tempco}
    spec["insulation_Mohm_km"] = {"value": 100, "min": 10, "max": 100000, "origin": "envelope"}
    part["cable"] = spec
    return part


def size_id(size):
    return size.replace(".", "_")


def iec_cables():
    parts = {}
    for size, (solid, flexible, tinned) in IEC_60228.items():
        nominal = RESISTIVITY / float(size)
        note = "Largest value of the table; smallest: resistivity by area, less 5 % for a conductor of more metal."
        for cores in (2, 4):
            parts[f"cable_{cores}x{size_id(size)}_solid"] = cable(
                f"Cable, {cores} x {size} mm2, solid or stranded (class 1, 2), copper",
                "IEC 60228:2004, classes 1 and 2, plain; IEC 60028",
                THICKER * nominal, nominal, solid, cores, mm2=float(size), note=note)
            parts[f"cable_{cores}x{size_id(size)}_flexible"] = cable(
                f"Cable, {cores} x {size} mm2, flexible (class 5), copper, plain or tinned",
                "IEC 60228:2004, class 5, tinned (covers plain); IEC 60028",
                THICKER * nominal, min(nominal * 1.04, flexible), tinned, cores, mm2=float(size), note=note)
    return parts


def alarm_cables():
    parts = {}
    copper = ("DIN VDE 0295 as quoted by a trade page (class of the column not certain); IEC 60028",
              "Sizes below 0.5 mm2 are not in IEC 60228. The range reaches from resistivity by area less 5 % to the "
              "quoted largest value.")
    clad = ("conductivity 61 to 64 % IACS for 10 to 15 % of copper, from memory; size as the copper cable",
            "Typical, not a standard's figure: measure the loop or ask for the sheet. Largest value: that of copper "
            "divided by 0.61.")
    for size, largest in VDE_0295.items():
        nominal = RESISTIVITY / float(size)
        for cores in (2, 4, 6, 8, 12):
            parts[f"alarm_{cores}x{size_id(size)}"] = cable(
                f"Alarm cable, {cores} x {size} mm2, copper", copper[0], THICKER * RESISTIVITY / float(size), nominal,
                largest, cores, mm2=float(size), note=copper[1])
        for cores in (4, 6, 8):
            parts[f"alarm_{cores}x{size_id(size)}_clad"] = cable(
                f"Alarm cable, {cores} x {size} mm2, copper-clad aluminium", clad[0],
                THICKER * RESISTIVITY / float(size) / 0.64, RESISTIVITY / float(size) / 0.63, largest / 0.61, cores,
                mm2=float(size), material="copper_clad_aluminium", origin="typical", tempco=CLAD_PPM_K, note=clad[1])
    for size, (solid, _, _) in IEC_60228.items():
        parts[f"cable_2x{size_id(size)}_clad"] = cable(
            f"Cable, 2 x {size} mm2, copper-clad aluminium", clad[0], THICKER * RESISTIVITY / float(size) / 0.64,
            RESISTIVITY / float(size) / 0.63, solid / 0.61, 2, mm2=float(size), material="copper_clad_aluminium",
            origin="typical", tempco=CLAD_PPM_K, note=clad[1])
    return parts


def awg_cables():
    parts = {}
    for gauge in range(10, 25, 2):
        nominal = RESISTIVITY / awg_mm2(gauge)
        spread = 2.0 * ASTM_DIAMETER_PCT / 100.0
        for cores in (2, 4):
            parts[f"cable_awg{gauge}_{cores}_solid"] = cable(
                f"Cable, {gauge} AWG, {cores} cores, solid, copper",
                "ASTM B258 (diameter by formula); IEC 60028 (resistivity)",
                nominal * (1 - spread), nominal, nominal * (1 + spread), cores, mm2=awg_mm2(gauge), awg=gauge,
                note="Tolerance 1 % on the diameter, from memory.")
            if gauge in NEC_TABLE_8:
                plain, coated = (value * NEC_TO_20 * KFT_PER_KM for value in NEC_TABLE_8[gauge])
                parts[f"cable_awg{gauge}_{cores}_stranded"] = cable(
                    f"Cable, {gauge} AWG, {cores} cores, stranded, copper, plain or coated",
                    "NEC chapter 9 table 8, seven strands, brought from 75 to 20 degC with its note (0.00323 / K)",
                    nominal * (1 - spread), plain, coated, cores, mm2=awg_mm2(gauge), awg=gauge,
                    note="Smallest: solid wire of the same gauge less 2 %. Largest: coated strands.")
            else:
                parts[f"cable_awg{gauge}_{cores}_stranded"] = cable(
                    f"Cable, {gauge} AWG, {cores} cores, stranded, copper, plain or coated",
                    "ASTM B258 and IEC 60028 for solid wire; strands as NEC chapter 9 table 8 has them for 18 AWG",
                    nominal * (1 - spread), nominal * 7.95 / 7.77, nominal * 8.45 / 7.77, cores, mm2=awg_mm2(gauge),
                    awg=gauge, origin="envelope",
                    note="Table 8 has no size below 18 AWG: its ratio of coated strands to solid wire there is used.")
    return parts


def data_cables():
    parts = {}
    for category, gauge in (("5e", 24), ("6", 23)):
        nominal = RESISTIVITY / awg_mm2(gauge)
        parts[f"data_cat{category}"] = cable(
            f"Data cable, category {category}, 4 pairs, {gauge} AWG, copper",
            "IEEE 802.3 clause 33 (12.5 ohm loop of a pair set over 100 m: 125 ohm/km of one core); ASTM B258",
            nominal * 0.98, nominal, 125.0, 8, mm2=awg_mm2(gauge), awg=gauge,
            note="The limit holds for a whole channel with its cords, so it is generous for the cable alone. "
                 "Copper-clad aluminium sold as data cable may exceed it.")
    return parts


# --- resistors ---------------------------------------------------------------------------------------------------

# IEC 60063. E24 is a table and must be: the formula of the finer series gives 26 29 32 35 38 42 46 83.
E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
E96 = tuple(round(100 * 10 ** (i / 96)) for i in range(96))
# 1 % resistors: the end-of-line values of the trade (all E24), and for each the E96 value that is fitted in its place.
COMMON_OHM = (1000, 1500, 2000, 2200, 2700, 3000, 3300, 3900, 4700, 5600, 6800, 8200, 10000, 12000, 15000, 22000, 33000,
              47000, 100000, 220000, 470000, 1000000)


def marking(ohm):
    """IEC 60062 letter code in lower case, as ids want it: 5600 -> 5k6, 470 -> 470r, 1000000 -> 1m (mega)."""
    if ohm < 1000:
        return f"{ohm:g}r"
    letter, unit = ("k", 1000) if ohm < 1000000 else ("m", 1000000)
    whole, _, rest = f"{ohm / unit:g}".partition(".")
    return f"{whole}{letter}{rest}"


def marking_words(ohm):
    """As people read it: 470 ohm, 5k6, 1M."""
    return marking(ohm).upper() if ohm >= 1000000 else marking(ohm).replace("r", " ohm")


def resistor(ohm, tolerance, tempco, source, note):
    return {"name": f"Resistor, {marking_words(ohm)}, {tolerance} %",
            "kind": "resistor", "source": source, "origin": "standard", "note": note,
            "resistor": {"resistance_ohm": {"value": ohm, "tolerance_pct": tolerance, "tempco_ppm_K": tempco},
                         "power_W": 0.25}}


def nearest_e96(ohm):
    decade = 1
    while ohm / decade >= 1000:
        decade *= 10
    return min((value * decade for value in E96 + (1000,)), key=lambda value: abs(value - ohm))


def resistors():
    parts = {}
    film = "Temperature coefficient: carbon film, generous single figure from common practice; its sign is not certain."
    metal = "Temperature coefficient: metal film, 100 ppm/K; its sign is not certain."
    for ohm in sorted({value * 10 ** power for value in E24 for power in (1, 2, 3, 4)} | {1000000}):
        parts[f"resistor_{marking(ohm)}_5pct"] = resistor(ohm, 5, -500, "IEC 60063, series E24, 5 %", film)
    for ohm in COMMON_OHM:
        parts[f"resistor_{marking(ohm)}_1pct"] = resistor(ohm, 1, 100, "IEC 60063, value of series E24, made to 1 %", metal)
        fine = nearest_e96(ohm)
        if fine != ohm:
            parts[f"resistor_{marking(fine)}_1pct"] = resistor(fine, 1, 100, "IEC 60063, series E96, 1 %", metal)
    return parts


# --- zone terminals ----------------------------------------------------------------------------------------------

PULLUPS = (1000, 2200, 4700, 5600, 10000)
EOLS = (1000, 2200, 4700, 5600, 10000)
GUARD = 0.01                    # of the source voltage, on each side of a boundary: there the panel is not bound to a word
INFINITE = float("inf")


def share(loop_ohm, pullup):
    """Nominal terminal voltage as a share of the source voltage."""
    return 1.0 if loop_ohm == INFINITE else loop_ohm / (loop_ohm + pullup)


def windows(levels, *, scale, keys):
    """Bands around nominal levels: boundaries half way between neighbours, kept apart by the guard.

    levels: (window id, reading, share of the source voltage). The lowest and the highest band are unbounded outward."""
    ordered = sorted(levels, key=lambda level: level[2])
    bands = {}
    for index, (name, means, level) in enumerate(ordered):
        low = "none" if index == 0 else figures(scale * ((ordered[index - 1][2] + level) / 2 + GUARD), 4)
        high = "none" if index + 1 == len(ordered) else figures(scale * ((ordered[index + 1][2] + level) / 2 - GUARD), 4)
        bands[name] = {"means": means, keys[0]: low, keys[1]: high}
    return bands


def loop_levels(kind, eol, pullup, shunt=None):
    """The levels that a panel programmed for this kind of loop tells apart."""
    if kind == "nc":
        return [("closed", "secure", 0.0), ("open", "alarm", 1.0)]
    if kind == "no":
        return [("closed", "alarm", 0.0), ("open", "secure", 1.0)]
    if kind == "single":
        return [("short", "alarm", 0.0), ("eol", "secure", share(eol, pullup)), ("open", "alarm", 1.0)]
    if kind == "single_short":
        return [("short", "shorted", 0.0), ("eol", "secure", share(eol, pullup)), ("open", "alarm", 1.0)]
    levels = [("short", "shorted", 0.0), ("eol", "secure", share(eol, pullup)),
              ("eol_and_alarm", "alarm", share(2 * eol, pullup)), ("open", "tamper", 1.0)]
    if kind == "triple":
        levels.insert(3, ("eol_and_mask", "masked", share(eol + shunt, pullup)))
        levels.insert(4, ("eol_alarm_and_mask", "masked", share(2 * eol + shunt, pullup)))
    return levels


KIND_WORDS = {"nc": "normally closed, no EOL", "no": "normally open, no EOL",
              "single": "single EOL {eol}, open and short are alarm",
              "single_short": "single EOL {eol}, open is alarm, short is told apart", "double": "double EOL {eol}/{eol}",
              "triple": "triple EOL {eol}/{eol}/{shunt}"}


def words(kind, eol, shunt=None):
    return KIND_WORDS[kind].format(eol=marking(eol) if eol else "", shunt=marking(shunt) if shunt else "")


def timing():
    return {"filter_s": {"value": 0.005, "min": 0.001, "max": 0.01}, "scan_s": {"value": 0.01, "min": 0.005, "max": 0.02},
            "debounce_s": {"value": 0.28, "min": 0.25, "max": 0.3}}


def ohms(value, tolerance=2, **more):
    return {"value": value, "tolerance_pct": tolerance, **more}


def terminal(name, spec, *, source=GENERIC, origin="data_sheet", note=""):
    part = {"name": name, "kind": "zone_terminal", "source": source, "origin": origin}
    if note:
        part["note"] = note
    part["zone_terminal"] = spec
    return part


def spec_of(reference, drive, source, source_value, pullup, bands, **more):
    key = "source_pct" if source == "raw_rail" else "source_V"
    spec = {"refers_to": reference, "drive": drive, "source": source, key: source_value, "pullup_ohm": pullup, **more}
    for name, value in {"series_ohm": "none", "input_ohm": "none", **timing()}.items():
        spec.setdefault(name, value)
    return {**spec, "windows": bands}


# What differs from make to make and no sheet tells: answers that rest on it stay open until it is measured or looked up.
TYPICAL_PULSES = ("Times within the period, what the source does outside the pulse, the filter and the capacitance are "
                  "typical figures, from memory (verified: no): measure them with an oscilloscope.")


def typical(value, low, high):
    return {"value": value, "min": low, "max": high, "origin": "typical"}


def pulses(period_s, look_s, **more):
    """A terminal that is driven in pulses: it is looked at once a period, late in the pulse. Its filter has to settle
    within the pulse, so it is far shorter than that of a steady one; what is counted over several looks is the
    debounce."""
    return {"period_s": period_s, "look_s": typical(look_s, figures(0.9 * look_s), figures(1.1 * look_s)), **more,
            "capacitance_nF": typical(10, 1, 22), "filter_s": typical(0.00005, 0.00001, 0.0001),
            "scan_s": {"value": period_s, "origin": "typical"}}


def arrangements():
    for pullup in PULLUPS:
        yield "nc", None, pullup, None
        yield "no", None, pullup, None
        for eol in EOLS:
            if 0.4 <= pullup / eol <= 2.5:  # outside this the levels of a loop crowd together at one end
                for kind in ("single", "single_short", "double"):
                    yield kind, eol, pullup, None
    yield "triple", 1000, 2200, 3000
    yield "triple", 4700, 4700, 12000


def kind_id(kind, eol):
    return kind if eol is None else f"{kind}_{marking(eol)}"


def sheet_terminals():
    """A panel with papers: 5 V regulated; and, where the pull-up equals the EOL, the same from the raw rail."""
    parts = {}
    volts = {"value": 5, "tolerance_pct": 3}
    for kind, eol, pullup, shunt in arrangements():
        levels = loop_levels(kind, eol, pullup, shunt)
        parts[f"terminal_5v_{kind_id(kind, eol)}_pu{marking(pullup)}"] = terminal(
            f"Zone terminal, 5 V, pull-up {marking(pullup)}, {words(kind, eol, shunt)}",
            spec_of("negative", "steady", "regulated", volts, ohms(pullup, tempco_ppm_K=100),
                    windows(levels, scale=5.0, keys=("min_V", "max_V"))))
        if eol in (None, pullup):
            parts[f"terminal_raw_{kind_id(kind, eol)}_pu{marking(pullup)}"] = terminal(
                f"Zone terminal, raw rail, pull-up {marking(pullup)}, {words(kind, eol, shunt)}",
                spec_of("negative", "steady", "raw_rail", 100, ohms(pullup, tempco_ppm_K=100),
                        windows(levels, scale=100.0, keys=("min_pct", "max_pct"))),
                note="Windows follow the rail: they are shares of the source voltage.")
    return parts


def doubled_terminals():
    """Two zones on one pair: which of them is in alarm is told by which resistor comes or goes."""
    parts = {}
    volts = {"value": 5, "tolerance_pct": 3}
    eol, first, second, pullup = 2200, 2200, 4700, 4700
    series = [("short", "shorted", 0.0), ("eol", "secure", share(eol, pullup)),
              ("first", "alarm", share(eol + first, pullup)), ("second", "second_alarm", share(eol + second, pullup)),
              ("both", "both_alarm", share(eol + first + second, pullup)), ("open", "tamper", 1.0)]
    parts["terminal_5v_doubled_series_pu4k7"] = terminal(
        "Zone terminal, 5 V, pull-up 4k7, two zones in series, EOL 2k2, shunts 2k2 and 4k7",
        spec_of("negative", "steady", "regulated", volts, ohms(pullup, tempco_ppm_K=100),
                windows(series, scale=5.0, keys=("min_V", "max_V"))),
        note="The first zone has the shunt of 2k2, the second that of 4k7.")
    first, second, pullup = 2200, 1000, 1000
    parallel = [("short", "shorted", 0.0), ("both_closed", "secure", share(first * second / (first + second), pullup)),
                ("second_left", "alarm", share(second, pullup)), ("first_left", "second_alarm", share(first, pullup)),
                ("open", "both_alarm", 1.0)]
    parts["terminal_5v_doubled_parallel_pu1k"] = terminal(
        "Zone terminal, 5 V, pull-up 1k, two zones in parallel, resistors 2k2 and 1k",
        spec_of("negative", "steady", "regulated", volts, ohms(pullup, tempco_ppm_K=100),
                windows(parallel, scale=5.0, keys=("min_V", "max_V"))),
        note="The first zone's contacts are in series with 2k2, the second's with 1k. A cut pair reads as both.")
    return parts


def terminals_without_papers():
    """What is found on a panel that nobody has a sheet for: figures that differ from make to make."""
    parts = {}
    for kind, eol in [("nc", None), ("no", None)] + [(kind, eol) for kind in ("single", "double") for eol in EOLS]:
        pullup = eol or 4700
        levels = loop_levels(kind, eol, pullup)
        parts[f"terminal_no_papers_{kind_id(kind, eol)}"] = terminal(
            f"Zone terminal of a panel without papers, {words(kind, eol)}",
            spec_of("negative", "steady", "regulated", 5, pullup, windows(levels, scale=5.0, keys=("min_V", "max_V"))),
            source="common practice, no source", origin="typical",
            note="Every figure here is a guess that differs from make to make. Measure the open voltage and the voltage "
                 "over a known resistor, on mains and on battery, and make a part of your own.")
    return parts


def special_terminals():
    """The terminals that do not simply pull a loop up from the negative."""
    volts = {"value": 5, "tolerance_pct": 3}
    double = windows(loop_levels("double", 4700, 4700), scale=5.0, keys=("min_V", "max_V"))
    parts = {
        "terminal_cp01_pu680r": terminal(
            "Zone terminal, 5 V, 680 ohm, windows of a published draft",
            spec_of("negative", "steady", "regulated", {"value": 5, "origin": "typical"}, ohms(680, 2, origin="typical"),
                    {"short": {"means": "shorted", "min_V": "none", "max_V": 0.75},
                     "normal": {"means": "secure", "min_V": 1.1, "max_V": 4.1},
                     "open": {"means": "alarm", "min_V": 4.6, "max_V": "none"}}),
            source="SIA CP-01, draft working paper (short to 0.75 V and 120 ohm, normal 1.1 to 4.1 V and 190 to 3000 ohm, "
                   "open from 4.6 V and 7800 ohm)", origin="standard",
            note="The paper names no circuit. 5 V behind 680 ohm reproduces all four resistances, so these two figures "
                 "are deduced and marked typical. Times are generic."),
        "terminal_positive_double_4k7": terminal(
            "Zone terminal, common positive, 5 V, pull-down 4k7, double EOL 4k7/4k7",
            spec_of("positive", "steady", "regulated", volts, ohms(4700, tempco_ppm_K=100), double),
            note="All voltages count downward from the positive. A unit that measures from its negative cannot tap it "
                 "directly."),
        "terminal_floating_double_4k7": terminal(
            "Zone terminal, floating pair, 5 V, 4k7, double EOL 4k7/4k7",
            spec_of("floating", "steady", "regulated", volts, ohms(4700, tempco_ppm_K=100), double),
            note="Neither wire of the pair is the negative."),
        "terminal_matrix_double_4k7": terminal(
            "Zone terminal, matrix of rows and columns, 5 V, 4k7, double EOL 4k7/4k7",
            spec_of("matrix", "scanned", "regulated", volts, ohms(4700, tempco_ppm_K=100), double, on_s=0.002,
                    **pulses(0.032, 0.0016, off_V={"value": 0, "origin": "typical"})),
            note="A terminal is shared by the zones of its row and is driven only while its row is looked at. "
                 + TYPICAL_PULSES),
        "terminal_current_double_5k6": terminal(
            "Zone terminal, current source 0.25 mA, double EOL 5k6/5k6",
            {"refers_to": "current_source", "drive": "steady", "source": "regulated",
             "source_V": {"value": 5, "tolerance_pct": 3}, "current_A": {"value": 0.00025, "tolerance_pct": 2},
             "pullup_ohm": "none", "series_ohm": "none", "input_ohm": "none", **timing(),
             "windows": windows([("short", "shorted", 0.0), ("eol", "secure", 1.4 / 5), ("eol_and_alarm", "alarm", 2.8 / 5),
                                 ("open", "tamper", 1.0)], scale=5.0, keys=("min_V", "max_V"))},
            note="The source voltage is what it can reach with the loop open."),
        "terminal_opto_nc_2k2": terminal(
            "Zone terminal, optocoupled, raw rail, 2k2, normally closed, no EOL",
            spec_of("optocoupled", "steady", "raw_rail", 100, ohms(2200, 5, tempco_ppm_K=100),
                    windows(loop_levels("nc", None, 2200), scale=100.0, keys=("min_pct", "max_pct")),
                    forward_V={"value": 1.2, "min": 1.0, "max": 1.5}),
            note="The loop current lights a diode: the pair has a polarity and need not be referred to the negative."),
    }
    for drive, on_s, timed, text in (
            ("scanned", 0.002, pulses(0.05, 0.0016, off_V={"value": 0, "origin": "typical"}),
             "The source is on for a part of the period; a meter shows the mean."),
            ("bipolar", 0.01, pulses(0.02, 0.008, reverse_V={"value": -5, "origin": "typical"}, reverse_s="none"),
             "The polarity changes: half of the time the loop is below the negative.")):
        parts[f"terminal_{drive}_double_4k7"] = terminal(
            f"Zone terminal, {drive}, 5 V, pull-up 4k7, double EOL 4k7/4k7",
            spec_of("negative", drive, "regulated", volts, ohms(4700, tempco_ppm_K=100), double, on_s=on_s, **timed),
            note=f"{text} {TYPICAL_PULSES}")
    # A square wave of 5 V stands at 5 V when the panel looks, so the windows are those of a steady source.
    waves = spec_of("negative", "alternating", "regulated", volts, ohms(4700, tempco_ppm_K=100), double, wave="square",
                    **pulses(0.02, 0.008))
    waves["rms_V"] = waves.pop("source_V")
    parts["terminal_alternating_double_4k7"] = terminal(
        "Zone terminal, alternating, square wave of 5 V, pull-up 4k7, double EOL 4k7/4k7", waves,
        note=f"The loop carries alternating current: a meter on direct voltage shows about nothing. {TYPICAL_PULSES}")
    return parts


# --- detectors ---------------------------------------------------------------------------------------------------

def detectors(folder):
    """The file as it stands, its patterns put in anew."""
    parts = json.loads((pathlib.Path(folder) / "detectors.json").read_text(encoding="utf-8"))["parts"]
    patterns = sight_parts.patterns()
    for name in patterns.keys() - parts.keys():
        sys.exit(f"detectors.json: there is no {name} for the pattern of that name")
    for name, part in parts.items():
        part["detector"].pop("pattern", None)
        if name in patterns:
            part["detector"]["pattern"] = patterns[name]
    return parts


# --- all ---------------------------------------------------------------------------------------------------------

FILES = {"cables.json": lambda _: {**iec_cables(), **alarm_cables(), **awg_cables(), **data_cables()},
         "resistors.json": lambda _: resistors(),
         "lenses.json": lambda _: sight_parts.lenses(),
         "cameras.json": lambda _: sight_parts.cameras(),
         "detectors.json": detectors,
         "zone_terminals.json": lambda _: {**sheet_terminals(), **doubled_terminals(), **terminals_without_papers(),
                                          **special_terminals()}}


def main(folder, *options):
    stale = []
    for name, parts in FILES.items():
        path = pathlib.Path(folder) / name
        text = shelf_file(parts(folder))
        if "--check" in options:
            if not path.exists() or path.read_text(encoding="utf-8") != text:
                stale.append(name)
        else:
            path.write_text(text, encoding="utf-8")
    if stale:
        print(f"{', '.join(stale)}: not what tools/make_parts.py writes. Run: python3 tools/make_parts.py {folder}")
    return 1 if stale else 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))
