"""Reads a DXF from standard input with ezdxf and tells what is in it as JSON."""
import io
import json
import sys

import ezdxf
from ezdxf import bbox, colors
from ezdxf.lldxf.encoding import decode_dxf_unicode

doc = ezdxf.read(io.TextIOWrapper(sys.stdin.buffer, encoding="cp1252"))
auditor = doc.audit()
msp = doc.modelspace()


def told(e):
    out = {"type": e.dxftype(), "layer": e.dxf.layer, "color": e.dxf.get("color", 256), "weight": e.dxf.get("lineweight", -1)}
    kind = e.dxftype()
    if kind == "TEXT":
        out.update(text=decode_dxf_unicode(e.dxf.text), height=e.dxf.height, rotation=e.dxf.get("rotation", 0),
                   at=list(e.dxf.align_point)[:2], halign=e.dxf.halign, valign=e.dxf.valign)
    elif kind == "INSERT":
        out.update(text=e.dxf.name, at=list(e.dxf.insert)[:2], height=e.dxf.xscale)
    elif kind == "LINE":
        out.update(at=list(e.dxf.start)[:2], to=list(e.dxf.end)[:2])
    elif kind in ("CIRCLE", "ARC"):
        out.update(at=list(e.dxf.center)[:2], height=e.dxf.radius)
    return out


extents = bbox.extents(msp)
json.dump({
    "version": doc.dxfversion,
    "unit": doc.units,
    "errors": [str(e.message) for e in auditor.errors],
    "fixes": [str(e.message) for e in auditor.fixes],
    "layers": sorted(layer.dxf.name for layer in doc.layers),
    "line_types": sorted(t.dxf.name for t in doc.linetypes),
    "blocks": {b.name: [told(e) for e in b] for b in doc.blocks if not b.name.startswith("*")},
    "entities": [told(e) for e in msp],
    "min": list(extents.extmin)[:2],
    "max": list(extents.extmax)[:2],
    "index": [list(colors.aci2rgb(n)) for n in range(10, 250)],
}, sys.stdout)
