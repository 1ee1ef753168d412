#!/usr/bin/env python3
"""The drawings of tests/trace, written by another hand: ezdxf 0.18.1 (Debian: python3-ezdxf), which knows nothing of this page.

    make_drawings.py      writes drawings/*.dxf beside this file, and drawings/expected.json: what ezdxf itself reads out of
                          them, flattened by its own code (ezdxf.path, virtual_entities), in the units of the file
"""
import json
import pathlib

import ezdxf
from ezdxf import path

here = pathlib.Path(__file__).parent / "drawings"
TAKEN = {"LINE", "LWPOLYLINE", "POLYLINE", "ARC", "CIRCLE"}


def flat():
    """A flat in millimetres: an outer ring, a bay as an arc, inner walls, doors from a block, and things that are no walls."""
    drawing = ezdxf.new("R2010", setup=True)
    drawing.header["$INSUNITS"] = 4
    for name in ("WALLS", "DOORS", "TEXT", "OLD"):
        drawing.layers.add(name)
    drawing.layers.get("OLD").off()
    sheet = drawing.modelspace()
    outer = [(0, 0), (8000, 0, 0, 0, 0.4142135623730951), (10000, 2000), (10000, 6000), (0, 6000)]  # a quarter of a circle
    sheet.add_lwpolyline(outer, close=True, dxfattribs={"layer": "WALLS"})
    sheet.add_line((4000, 0), (4000, 3000), dxfattribs={"layer": "WALLS"})
    sheet.add_line((4000, 3000), (4000, 6000), dxfattribs={"layer": "WALLS"})
    sheet.add_line((4000, 3000), (10000, 3000), dxfattribs={"layer": "WALLS"})
    sheet.add_polyline2d([(1000, 1000), (2000, 1000), (2000, 2000)], dxfattribs={"layer": "OLD"})
    sheet.add_arc((7000, 6000), 1500, 0, 180, dxfattribs={"layer": "WALLS"})
    sheet.add_circle((6000, 4500), 300, dxfattribs={"layer": "WALLS"})
    door = drawing.blocks.new("DOOR", base_point=(100, 0))
    door.add_line((100, 0), (1000, 0))  # layer 0: lies where the block is set in
    door.add_arc((100, 0), 900, 0, 90)
    door.add_text("90")
    sheet.add_blockref("DOOR", (4000, 1000), dxfattribs={"layer": "DOORS", "rotation": 90})
    sheet.add_blockref("DOOR", (8000, 3000), dxfattribs={"layer": "DOORS", "xscale": -1, "yscale": 2})
    pair = drawing.blocks.new("PAIR")
    pair.add_blockref("DOOR", (0, 0), dxfattribs={"rotation": 180})
    pair.add_line((0, 0), (0, 500), dxfattribs={"layer": "WALLS"})
    sheet.add_blockref("PAIR", (2000, 6000), dxfattribs={"layer": "DOORS", "column_count": 2, "column_spacing": 1500})
    sheet.add_lwpolyline([(0, 0), (500, 0), (500, 500)], dxfattribs={"layer": "DOORS", "extrusion": (0, 0, -1)})
    sheet.add_text("Kitchen", dxfattribs={"layer": "TEXT"})
    sheet.add_mtext("Hall", dxfattribs={"layer": "TEXT"})
    sheet.add_hatch().paths.add_polyline_path([(0, 0), (1, 0), (1, 1)])
    sheet.add_spline([(0, 0), (1, 1), (2, 0)])
    sheet.add_ellipse((0, 0), (10, 0), 0.5)
    sheet.add_point((0, 0))
    sheet.add_blockref("GONE", (0, 0))
    drawing.layout("Layout1").add_line((0, 0), (297, 210))
    return drawing


def metres():
    """One room of an old file, R12, in metres, far from the origin: what a surveyor hands over."""
    drawing = ezdxf.new("R12")
    sheet = drawing.modelspace()
    sheet.add_polyline2d([(4000, 7000), (4012.5, 7000), (4012.5, 7008), (4000, 7008)], dxfattribs={"layer": "Außenwand"}).close()
    return drawing


def outline(entity):
    if entity.dxftype() == "LINE":
        return [(entity.dxf.start.x, entity.dxf.start.y), (entity.dxf.end.x, entity.dxf.end.y)]
    return [(point.x, point.y) for point in path.make_path(entity).flattening(distance=0.001, segments=4)]


def apart(drawing, entities, layer=None):
    """What is drawn, blocks taken apart by ezdxf; on layer 0 of a block it lies where the block is set in (DXF reference)."""
    for entity in entities:
        own = layer if layer is not None and entity.dxf.layer == "0" else entity.dxf.layer
        if entity.dxftype() != "INSERT":
            # An arc that is stretched by its block is an ellipse to ezdxf; an ellipse of the drawing itself is not taken.
            if entity.dxftype() in TAKEN or (layer is not None and entity.dxftype() == "ELLIPSE"):
                yield own, entity
        elif entity.dxf.name in drawing.blocks:
            for one in entity.multi_insert():
                yield from apart(drawing, one.virtual_entities(), own)


def expected(drawing):
    """Length and box of the lines of each layer."""
    layers = {}
    for name, entity in apart(drawing, drawing.modelspace()):
        points = outline(entity)
        layer = layers.setdefault(name, {"length": 0.0, "lines": 0, "xs": [], "ys": []})
        layer["lines"] += 1
        layer["length"] += sum(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in zip(points, points[1:]))
        layer["xs"] += [x for x, _ in points]
        layer["ys"] += [y for _, y in points]
    return {
        name: {"lines": one["lines"], "length": round(one["length"], 3), "box": [round(f(one[k]), 3) for k in ("xs", "ys") for f in (min, max)]}
        for name, one in sorted(layers.items())
    }


if __name__ == "__main__":
    here.mkdir(exist_ok=True)
    told = {}
    for make in (flat, metres):
        drawing = make()
        drawing.saveas(here / f"{make.__name__}.dxf")
        told[make.__name__] = expected(ezdxf.readfile(here / f"{make.__name__}.dxf"))
    (here / "expected.json").write_text(json.dumps(told, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
