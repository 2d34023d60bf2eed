"""A frame as it stands in the plan's JSON document: lengths in mm, angles in degrees."""

from __future__ import annotations

from typing import Any

from formwork.molds.frames.pipework import Cut
from formwork.molds.structure import BuiltCentre, BuiltFrame
from formwork.packet.figures import degrees_of, millimetres, nine

Entry = dict[str, Any]


def frame_entry(built: BuiltFrame) -> Entry:
    """One frame: its pipe, classes of pipes, hubs, nodes and which nodes each strut joins."""
    frame = built.frame
    return {
        "name": frame.name,
        "shape": frame.shape,
        "method": built.order.mold.method,
        "count": built.copies,
        "pipe": {
            "stock": built.pipe.name,
            "material": built.pipe.material,
            "outside_diameter_mm": millimetres(built.pipe.width),
            "wall_mm": millimetres(built.pipe.wall),
        },
        "pipes": [_cut(cut) for cut in built.cuts],
        "joins": {member.name: [list(pair) for pair in member.joins] for member in frame.members},
        "hubs": [{"name": hub.name, "ways": hub.ways, "count": hub.count} for hub in frame.hubs],
        "crown_radius_mm": millimetres(frame.crown) if frame.crown else None,
        "mass_kg": nine(built.mass),
        "stack_mm": millimetres(built.stack),
        "nodes_mm": [[millimetres(value) for value in node] for node in frame.nodes],
        "base_nodes": list(frame.base),
        "notes": list(frame.notes),
        "instructions": list(built.instructions),
    }


def _cut(cut: Cut) -> Entry:
    return {
        "class": cut.letter,
        "name": cut.part.name,
        "count": cut.each,
        "length_mm": millimetres(cut.length),
        "cut_mm": millimetres(cut.part.blank.length),
        "bend_deg": degrees_of(cut.bend),
        "radius_mm": millimetres(cut.radius) if cut.radius else None,
    }


def centre_entry(built: BuiltCentre) -> Entry:
    """The centre of an arch: its ribs, what it carries, how it is made."""
    return {
        "name": built.name,
        "shape": built.centre.shape,
        "ribs": built.ribs,
        "rib_depth_mm": millimetres(built.depth),
        "rib_radius_mm": millimetres(built.radius),
        "span_mm": millimetres(built.span),
        "carries_n": nine(built.weight),
        "mass_kg": nine(built.mass),
        "instructions": list(built.instructions),
    }
