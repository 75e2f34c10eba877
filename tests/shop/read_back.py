"""Reads files for the shop back with programs that this project has no part in, and holds them to what is expected.

Usage: read_back.py FOLDER. FOLDER/expected.json lists pieces with their figures (mm, mm2, mm3); for each piece NAME
there are NAME.step, NAME.stl, NAME.3mf and NAME.glb. Prints one line a file; ends with status 1 at the first
difference.

Readers: Open CASCADE for STEP, trimesh for STL and glTF, lib3mf (the reference implementation) for 3MF.
"""

import json
import pathlib
import sys

import lib3mf
import numpy
import trimesh
from OCP.BRep import BRep_Tool
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_RetDone
from OCP.ShapeAnalysis import ShapeAnalysis_ShapeTolerance
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS
from OCP.collections import (
    IndexedDataMap_TopoDS_Shape_List_TopoDS_Shape_TopTools_ShapeMapHasher as AncestorsOfShapes,
    IndexedMap_TopoDS_Shape_TopTools_ShapeMapHasher as Shapes,
)

# STEP holds the exact faces: volume and area agree to this, relative.
EXACT = 1e-6
# Meshes are compared with the mesh that was written; its coordinates fit 32 bits, sums of readers may be short.
ROUNDED = 2e-6
# Centres, as a share of the size: lib3mf holds coordinates in 32 bits.
CENTRED = 2e-6
# Open CASCADE's own accuracy of integration.
INTEGRATION = 1e-9
# Triangles of a mesh written, over those of Open CASCADE's mesher for the same deflection (mm) and no limit of angle.
# Its deflection is sampled, that of a mesh written is a bound.
MOST_TRIANGLES = 2.0
NO_ANGLE = 3.0
# The gap that it may find between faces and edges, mm: it never reports less than 1e-7.
LARGEST_GAP = 2e-6


class Difference(Exception):
    """What was read is not what was expected."""


def near(what, found, expected, tolerance):
    if not abs(found - expected) <= tolerance * abs(expected):
        raise Difference(f"{what}: found {found!r}, expected {expected!r} to {tolerance:g}")


def same(what, found, expected):
    if found != expected:
        raise Difference(f"{what}: found {found!r}, expected {expected!r}")


def parts(shape, kind):
    found = Shapes()
    TopExp.MapShapes_s(shape, kind, found)
    return found.Extent()


def faces_of_edges(shape):
    """How many faces each edge bounds, sorted and without repetition."""
    users = AncestorsOfShapes()
    TopExp.MapShapesAndAncestors_s(shape, TopAbs_EDGE, TopAbs_FACE, users)
    return sorted({users.FindFromIndex(index).Size() for index in range(1, users.Extent() + 1)})


def triangles_of_mesher(shape, deflection):
    """How many triangles Open CASCADE makes of all faces."""
    BRepMesh_IncrementalMesh(shape, deflection, False, NO_ANGLE, False)
    faces = Shapes()
    TopExp.MapShapes_s(shape, TopAbs_FACE, faces)
    meshes = (
        BRep_Tool.Triangulation_s(TopoDS.Face(faces.FindKey(index)), TopLoc_Location())
        for index in range(1, faces.Extent() + 1)
    )
    return sum(mesh.NbTriangles() for mesh in meshes)


def read_step(path, expected):
    reader = STEPControl_Reader()
    same("reading", reader.ReadFile(str(path)), IFSelect_RetDone)
    reader.TransferRoots()
    shape = reader.OneShape()
    same("valid", BRepCheck_Analyzer(shape).IsValid(), True)
    same("solids", parts(shape, TopAbs_SOLID), 1 if expected["solid"] else 0)
    same("shells", parts(shape, TopAbs_SHELL), 1)
    same("faces", parts(shape, TopAbs_FACE), expected["faces"])
    same("faces at an edge", faces_of_edges(shape), [2] if expected["solid"] else [1, 2])
    gap = ShapeAnalysis_ShapeTolerance().Tolerance(shape, 1)
    if not gap <= LARGEST_GAP:
        raise Difference(f"faces and edges part by {gap} mm")
    figures = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, figures, INTEGRATION)
    area = figures.Mass()
    near("area", area, expected["area"], EXACT)
    told = f"area {area / expected['area'] - 1:+.1e}"
    centre = figures.CentreOfMass()
    if expected["solid"]:
        figures = GProp_GProps()
        BRepGProp.VolumeProperties_s(shape, figures, INTEGRATION, True)
        volume = figures.Mass()
        near("volume", volume, expected["volume"], EXACT)
        told += f", volume {volume / expected['volume'] - 1:+.1e}"
        centre = figures.CentreOfMass()
    check_centre("centre", [centre.X(), centre.Y(), centre.Z()], expected["centre"], size_of(expected))
    ratio = expected["triangles"] / triangles_of_mesher(shape, expected["deflection"])
    if not ratio <= MOST_TRIANGLES:
        raise Difference(f"the mesh has {ratio:.2f} times the triangles of another mesher")
    return f"{told}, largest gap {gap:.1e} mm, {ratio:.2f} times as many triangles written"


def check_centre(what, found, expected, size):
    """Centres tell a piece from its mirror image and from one that is turned."""
    if not max(abs(numpy.subtract(found, expected))) <= CENTRED * size:
        raise Difference(f"{what}: found {list(found)}, expected {expected}")


def size_of(expected):
    return max(end - start for start, end in expected["bounds"].values())


def check_orientation(corners, triangles, expected):
    """Signed volume and centre of gravity from bare corners (mm, z up) and triangles."""
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    if expected["solid"]:
        shares = numpy.einsum("ij,ij->i", a, numpy.cross(b, c)) / 6
        near("signed volume", shares.sum(), expected["mesh_volume"], ROUNDED)
        centre = (shares[:, None] * (a + b + c) / 4).sum(axis=0) / shares.sum()
    else:
        shares = numpy.linalg.norm(numpy.cross(b - a, c - a), axis=1) / 2
        centre = (shares[:, None] * (a + b + c) / 3).sum(axis=0) / shares.sum()
    check_centre("centre", centre, expected["mesh_centre"], size_of(expected))


def check_mesh(mesh, expected, scale):
    mesh.merge_vertices(merge_norm=True, merge_tex=True)
    same("triangles", len(mesh.faces), expected["triangles"])
    same("corners", len(mesh.vertices), expected["points"])
    same("watertight", bool(mesh.is_watertight), expected["solid"])
    same("winding", bool(mesh.is_winding_consistent), True)
    near("area", mesh.area * scale**2, expected["mesh_area"], ROUNDED)
    if expected["solid"]:
        near("volume", mesh.volume * scale**3, expected["mesh_volume"], ROUNDED)
    return f"{len(mesh.faces)} triangles"


def read_stl(path, expected):
    if b"mm" not in path.read_bytes()[:80]:
        raise Difference("the header does not name the unit")
    mesh = trimesh.load_mesh(path)
    check_orientation(mesh.vertices, mesh.faces, expected)
    return check_mesh(mesh, expected, 1.0)


def read_gltf(path, expected):
    scene = trimesh.load(path)
    same("meshes", len(scene.geometry), 1)
    mesh = scene.to_geometry()
    # Metres, +Y up: height of the piece is y here.
    low, high = (1000.0 * end for end in mesh.bounds)
    for axis, (value, sign) in enumerate([("x", 1), ("z", 1), ("y", -1)]):
        ends = [sign * end for end in expected["bounds"][value]]
        for found, end in zip((low[axis], high[axis]), sorted(ends)):
            if not abs(found - end) <= 1e-3:
                raise Difference(f"bounds along {value}: found {found}, expected {end}")
    x, y, z = 1000.0 * mesh.vertices.T
    check_orientation(numpy.stack([x, -z, y], axis=1), mesh.faces, expected)
    return check_mesh(mesh, expected, 1000.0)


def read_3mf(path, expected):
    wrapper = lib3mf.get_wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    same("warnings", reader.GetWarningCount(), 0)
    same("unit", model.GetUnit(), lib3mf.ModelUnit.MilliMeter)
    objects = model.GetMeshObjects()
    same("objects", objects.Count(), 1)
    objects.MoveNext()
    mesh = objects.GetCurrentMeshObject()
    kind = lib3mf.ObjectType.Model if expected["solid"] else lib3mf.ObjectType.Surface
    same("type", mesh.GetType(), kind)
    same("valid", mesh.IsValid(), True)
    if expected["solid"]:
        same("manifold and oriented", mesh.IsManifoldAndOriented(), True)
    same("corners", mesh.GetVertexCount(), expected["points"])
    same("triangles", mesh.GetTriangleCount(), expected["triangles"])
    box = mesh.GetOutbox()
    for axis, name in enumerate("xyz"):
        for found, end in zip((box.MinCoordinate[axis], box.MaxCoordinate[axis]), expected["bounds"][name]):
            if not abs(found - end) <= 1e-3:
                raise Difference(f"bounds along {name}: found {found}, expected {end}")
    corners = numpy.array([list(corner.Coordinates) for corner in mesh.GetVertices()], dtype=float)
    triangles = numpy.array([list(triangle.Indices) for triangle in mesh.GetTriangleIndices()])
    check_orientation(corners, triangles, expected)
    items = model.GetBuildItems()
    same("build items", items.Count(), 1)
    return f"{mesh.GetTriangleCount()} triangles"


READERS = {".step": read_step, ".stl": read_stl, ".glb": read_gltf, ".3mf": read_3mf}


def main(folder):
    pieces = json.loads((folder / "expected.json").read_text())
    for name, expected in sorted(pieces.items()):
        for ending, read in READERS.items():
            path = folder / (name + ending)
            try:
                print(f"{path.name}: {read(path, expected)}")
            except Exception as difference:
                print(f"{path.name}: {type(difference).__name__}: {difference}", file=sys.stderr)
                return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))
