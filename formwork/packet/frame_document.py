"""A frame as it stands in the plan's JSON document: lengths in mm, angles in degrees."""

from __future__ import annotations

from typing import Any

from formwork.molds.framed import BuiltFrame
from formwork.packet.figures import degrees_of, millimetres
from formwork.shapes.piece import Member

Entry = dict[str, Any]


def frame_entry(built: BuiltFrame) -> Entry:
    """One frame: its pipe, classes of struts, hubs, nodes and which nodes each strut joins."""
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
        "struts": [_member(member) for member in frame.members],
        "hubs": [{"name": hub.name, "ways": hub.ways, "count": hub.count} for hub in frame.hubs],
        "stack_mm": millimetres(built.stack),
        "nodes_mm": [[millimetres(value) for value in node] for node in frame.nodes],
        "base_nodes": list(frame.base),
        "notes": list(frame.notes),
        "instructions": list(built.instructions),
    }


def _member(member: Member) -> Entry:
    return {
        "class": member.name,
        "count": len(member.joins),
        "length_mm": millimetres(member.length),
        "cut_mm": millimetres(member.cut),
        "bend_deg": degrees_of(member.bend),
        "joins": [list(pair) for pair in member.joins],
    }
