"""Read a drawing exchange file with ezdxf and write what it holds as JSON.

The argument is the file. Errors and fixes are those of recovering the file and
of auditing the plainly loaded one; both must be empty for a clean file.
"""
import json
import sys

import ezdxf
from ezdxf import recover
from ezdxf.lldxf.encoding import decode_dxf_unicode

path = sys.argv[1]
doc, first = recover.readfile(path)
plain = ezdxf.readfile(path)
second = plain.audit()

faults = []
for auditor in (first, second):
    faults += [f"error {e.code}: {e.message}" for e in auditor.errors]
    faults += [f"fix {e.code}: {e.message}" for e in auditor.fixes]

layers = {}
for e in plain.modelspace():
    layer = layers.setdefault(e.dxf.layer, {"paths": [], "circles": [], "points": [], "texts": []})
    kind = e.dxftype()
    if kind == "LWPOLYLINE":
        layer["paths"].append({"closed": bool(e.closed), "z": e.dxf.get("elevation", 0), "v": [[x, y, b] for x, y, b in e.get_points("xyb")]})
    elif kind == "POLYLINE":
        layer["paths"].append({"closed": bool(e.is_closed), "z": e.vertices[0].dxf.location.z, "v": [
            [v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)] for v in e.vertices]})
    elif kind == "CIRCLE":
        layer["circles"].append([e.dxf.center.x, e.dxf.center.y, e.dxf.radius])
    elif kind == "POINT":
        layer["points"].append([e.dxf.location.x, e.dxf.location.y])
    elif kind == "TEXT":
        layer["texts"].append(decode_dxf_unicode(e.dxf.text))
    else:
        faults.append(f"unexpected {kind}")

seed = int(plain.header.get("$HANDSEED", "0"), 16) if plain.dxfversion > "AC1009" else 0
json.dump({
    "version": plain.dxfversion,
    "units": plain.header.get("$INSUNITS", 0),
    "faults": faults,
    "layers": layers,
    "names": [l.dxf.name for l in plain.layers],
    "handle": max((int(e.dxf.handle, 16) for e in plain.modelspace()), default=0) if seed else 0,
    "seed": seed,
}, sys.stdout)
