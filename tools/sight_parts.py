"""What looks and detects, for the parts shelf: patterns of detectors, lenses, cameras. Used by make_parts.py.

A pattern is drawn from the layers of beams that a sheet shows from the side: each layer is a line from the detector to
where it meets the floor. Which heights it covers at a distance follows by similar triangles, so the profile is a formula
and not a table. Ranges, angles and layers are those of the shelf's generic sheets, chosen from memory of what is usual
(verified: no): no standard sets coverage classes, each maker declares its pattern. Sensors are pixels times pitch,
never a size in inches.
"""

STEP = 0.1      # m; behind the foot of a layer the next one is the lowest, and between two rows heights go in a line
THICK = 0.02    # half the height of a beam, per metre of distance


def rounded(value):
    value = round(value, 2)
    return int(value) if value == int(value) else value


def layers_profile(height, feet, reach):
    """Rows for a detector at `height` whose layers meet the floor at `feet`; the last foot lies beyond `reach`."""
    def row(distance):
        covered = [height * (1 - distance / foot) for foot in feet if foot >= distance]
        return {"distance_m": rounded(distance), "lowest_m": rounded(max(0, min(covered) - THICK * distance)),
                "highest_m": rounded(min(height, max(covered) + THICK * distance))}
    stops = {STEP, reach} | {foot for foot in feet if foot < reach} | {foot + STEP for foot in feet if foot + STEP < reach}
    return [row(distance) for distance in sorted(stops)]


def cone_profile(height, foot):
    """Rows for a detector on the ceiling: everything below a cone that meets the floor at `foot`."""
    return [{"distance_m": rounded(share * foot), "lowest_m": 0,
             "highest_m": rounded(min(height, height * (1 - share) + THICK * share * foot))} for share in (0, 0.5, 1)]


def lobe_profile(height, reach):
    """Rows for what radiates into all heights alike."""
    return [{"distance_m": distance, "lowest_m": 0, "highest_m": height} for distance in (STEP, reach)]


def fan(near, guaranteed, largest, mount, profile):
    """guaranteed, largest: (range in m, whole angle in degrees); mount: (lowest, highest) in m."""
    return {"shape": "fan", "mount_min_m": mount[0], "mount_max_m": mount[1], "near_m": near,
            "guaranteed": {"range_m": guaranteed[0], "angle_deg": guaranteed[1]},
            "largest": {"range_m": rounded(largest[0]), "angle_deg": largest[1]}, "profile": profile}


def wide(reach, looks_down=False):
    """Layers that meet the floor as no foot is more than three times as far as the one before, so that each distance has
    one of them at the height of a trunk. Without a layer that looks down nobody is detected nearer than about a metre,
    and everybody only from 2 m on: the close-in test of EN 50131-2-2 in grades 1 and 2, from memory (0.5 m in grade 3)."""
    close = [1.35, reach / 4, reach / 2] if looks_down else [5, 0.75 * reach]
    largest = reach * 4 / 3
    return fan(0.5 if looks_down else 2, (reach, 85), (largest, 110), (2.1, 2.4),
               layers_profile(2.2, close + [1.5 * reach], largest))


def guarded(mount, arm=1.0):
    """An opening: it tells that the opening is open or struck, and who did it stands within an arm's reach."""
    return {"shape": "opening", "mount_min_m": mount[0], "mount_max_m": mount[1], "near_m": "none",
            "guaranteed": {"range_m": 0}, "largest": {"range_m": arm}}


def beam(range_m, mount):
    return {"shape": "beam", "mount_min_m": mount[0], "mount_max_m": mount[1], "near_m": "none",
            "guaranteed": {"range_m": range_m}, "largest": {"range_m": range_m}}


def patterns():
    curtain = {"shape": "curtain", "mount_min_m": 2.1, "mount_max_m": 3, "near_m": 0.3,
               "guaranteed": {"range_m": 10, "width_m": 0.9}, "largest": {"range_m": 12, "width_m": 2},
               "profile": layers_profile(2.4, [0.45, 1, 2.3, 5.2, 14], 12)}
    ceiling = {"shape": "ceiling", "mount_min_m": 2.4, "mount_max_m": 3.6, "near_m": "none",
               "guaranteed": {"range_m": 3}, "largest": {"range_m": 4.5}, "profile": cone_profile(2.6, 4.5)}
    panes = {"shape": "panes", "mount_min_m": 1.5, "mount_max_m": 3.6, "near_m": "none",
             "guaranteed": {"range_m": 7.5}, "largest": {"range_m": 10.7}}
    mat = {"shape": "mat", "mount_min_m": 0, "mount_max_m": 0.05, "near_m": "none"}
    wide_12, close_15 = wide(12), wide(15, looks_down=True)
    microwave = fan(0.5, (12, 70), (20, 100), (2, 2.4), lobe_profile(2.4, 20))
    found = {name: wide_12 for name in ("pir_wide_12m", "pir_wide_12m_relay", "pir_wide_12m_spare", "dual_wide_12m",
                                        "dual_cold_room_heated", "pir_addressable_12m")}
    found |= {name: close_15 for name in ("pir_wide_15m_mask", "dual_wide_15m_mask")}
    found |= {name: guarded((0, 3)) for name in ("contact_door", "contact_door_no_tamper", "shock_powered",
                                                 "shock_contact", "contact_wireless")}
    # Nobody knows the pattern of a detector without a sheet: what is said is what none of its kind falls short of.
    unknown = fan(2, (6, 70), (20, 120), (2, 2.6), layers_profile(2.2, [3, 9, 27], 20))
    return found | {
        "pir_wireless_10m": wide(10), "pir_no_papers": unknown, "pir_ceiling_360": ceiling, "pir_curtain_10m": curtain,
        "pir_corridor_30m": fan(2.5, (30, 4), (40, 8), (2.1, 2.6), layers_profile(2.4, [3.75, 8, 18, 45], 40)),
        "microwave_15m": microwave, "beam_pair_60m": beam(60, (0.4, 3)), "beam_pair_20m_no": beam(20, (0.3, 3)),
        "contact_roller_door": guarded((0, 1), 1.5), "glass_break_acoustic": panes, "floor_mat": mat}


# --- lenses ------------------------------------------------------------------------------------------------------

PLAIN = (0, 0, 0)               # drawn as a pinhole draws
BARREL = (-0.28, 0.07, 0)       # no fold within any picture: 1 + 3 k1 r2 + 5 k2 r4 has no root
LENSES = (("lens_2_8mm", "Lens, 2.8 mm", 2.8, 2.8, PLAIN, 0.3), ("lens_3_6mm", "Lens, 3.6 mm", 3.6, 3.6, PLAIN, 0.3),
          ("lens_4mm", "Lens, 4 mm", 4, 4, PLAIN, 0.4), ("lens_6mm", "Lens, 6 mm", 6, 6, PLAIN, 0.5),
          ("lens_8mm", "Lens, 8 mm", 8, 8, PLAIN, 0.8), ("lens_12mm", "Lens, 12 mm", 12, 12, PLAIN, 1),
          ("lens_2_8_12mm", "Lens, 2.8 to 12 mm, varifocal", 2.8, 12, PLAIN, 0.5),
          ("lens_5_50mm", "Lens, 5 to 50 mm, varifocal", 5, 50, PLAIN, 1),
          ("lens_2_8mm_barrel", "Lens, 2.8 mm, wide with barrel distortion", 2.8, 2.8, BARREL, 0.3))
FISHEYE_MM = 1.56               # r = f theta: a half circle of 2.46 mm, the half of 2048 pixels of 2.4 um, at 90 degrees


def lens_spec(least, most, radial, near):
    return {"projection": "pinhole", "focal_min_mm": least, "focal_max_mm": most, "k1_coefficient": radial[0],
            "k2_coefficient": radial[1], "k3_coefficient": radial[2], "p1_coefficient": 0, "p2_coefficient": 0,
            "near_m": near}


def fisheye_spec():
    return {"projection": "equidistant", "focal_min_mm": FISHEYE_MM, "focal_max_mm": FISHEYE_MM, "k1_coefficient": 0,
            "k2_coefficient": 0, "k3_coefficient": 0, "near_m": 0.2}


DRAWN = ("Focal length as printed on it; distortion differs from lens to lens and few sheets tell it: measure it in the "
         "picture where the edge counts.")


def optic(kind, name, spec, note):
    return {"name": name, "kind": kind, "source": "generic data sheet of the parts shelf", "origin": "data_sheet",
            "note": note, kind: spec}


def lenses():
    parts = {part: optic("lens", name, lens_spec(least, most, radial, near), DRAWN)
             for part, name, least, most, radial, near in LENSES}
    parts["lens_fisheye_1_56mm"] = optic("lens", "Lens, fisheye, 180 degrees, 1.56 mm", fisheye_spec(), DRAWN)
    return parts


# --- cameras -----------------------------------------------------------------------------------------------------

# Sensor -> (pixels across, pixels upwards, pitch in um, words). Pitch times pixels: 5.568 x 3.132, 5.376 x 3.040,
# 7.680 x 4.320 mm. The pitches of the first and the last are from memory.
SENSORS = {"1mp": (1280, 720, 3.75, "1280 x 720"), "2mp": (1920, 1080, 2.9, "1920 x 1080"),
           "4mp": (2688, 1520, 2.0, "2688 x 1520"), "8mp": (3840, 2160, 2.0, "3840 x 2160"),
           "round": (2048, 2048, 2.4, "2048 x 2048")}
BUILT_IN = {"2_8mm": (lens_spec(2.8, 2.8, BARREL, 0.3), "2.8 mm"), "4mm": (lens_spec(4, 4, PLAIN, 0.4), "4 mm"),
            "2_8_12mm": (lens_spec(2.8, 12, PLAIN, 0.5), "2.8 to 12 mm"), "fisheye": (fisheye_spec(), "fisheye")}
# (sensor, built-in lens, reach of its own infrared in m)
CAMERAS = (("1mp", None, None), ("1mp", "4mm", 20), ("2mp", None, None), ("2mp", "2_8mm", None), ("2mp", "2_8mm", 20),
           ("2mp", "4mm", 30), ("2mp", "2_8_12mm", 30), ("4mp", None, None), ("4mp", "2_8mm", 30), ("4mp", "2_8_12mm", None),
           ("4mp", "2_8_12mm", 40), ("8mp", None, None), ("8mp", "2_8mm", 30), ("8mp", "2_8_12mm", 50),
           ("round", "fisheye", None), ("round", "fisheye", 10))
PITCH = "Size of the sensor is pixels times pitch; the reach of infrared differs with the scene: look at a picture at night."


# Sensor -> W without infrared. Infrared adds 0.1 W for each metre of its reach. Each asks for the lowest class of IEEE
# 802.3 whose devices may take as much.
WATTS = {"1mp": 3.5, "2mp": 4.5, "4mp": 6.0, "8mp": 8.0, "round": 7.5}
DEVICE_W = {1: 3.84, 2: 6.49, 3: 12.95, 4: 25.5}


def powered_over_its_cable(sensor, infrared):
    watts = WATTS[sensor] + 0.1 * (infrared or 0)
    return {"poe_class": min(c for c, most in DEVICE_W.items() if watts <= most), "power_W": round(watts, 1),
            "boot_s": {"value": 40, "min": 20, "max": 60}, "delay_s": {"value": 0.15, "min": 0.05, "max": 0.3},
            "analytics_s": {"value": 1, "min": 0.3, "max": 2}}


def camera(sensor, lens, infrared):
    width, height, pitch, words = SENSORS[sensor]
    spec = {"width_px": width, "height_px": height, "pixel_um": pitch, "infrared_reach_m": infrared or "none"}
    named = [f"Camera, {words}", "for any lens"]
    if lens:
        spec["lens"], named[1] = BUILT_IN[lens]
    named.append(f"infrared {infrared} m" if infrared else "no infrared")
    spec |= powered_over_its_cable(sensor, infrared)
    return optic("camera", ", ".join(named), spec, PITCH)


def cameras():
    parts = {}
    for sensor, lens, infrared in CAMERAS:
        name = "_".join(["camera", sensor, lens or "bare"] + ([f"ir{infrared}"] if infrared else []))
        parts[name] = camera(sensor, lens, infrared)
    return parts
