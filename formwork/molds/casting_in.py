"""The step that sets what stays in a piece: which wall, how high or how far apart, and what holds it off the mold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from formwork.molds.assembly import Told
from formwork.molds.mold import Part
from formwork.shapes.piece import Embedded, Piece, Planar
from formwork.units import show
from formwork.units.show import UnitSystem


def casting_in(piece: Piece, parts: Sequence[Part], units: UnitSystem) -> Iterator[Told]:
    """One step after the mold is oiled; none where nothing is set in, or only what the mix brings with it.

    Args:
        piece: as cast.
        parts: of the mold: what is cut among them has its own step.
        units: how a person here reads a length.
    """
    own = {part.name for part in parts}
    said = [
        line for thing in piece.embedded if thing.name not in own for line in _placed(piece, thing, units)
    ]
    if said:
        each = "In each cavity set" if piece.cavities > 1 else "Set"
        yield Told(
            f"{each} in what stays in the piece, free of release agent, tied so that the mix cannot move it. "
            + " ".join(said)
        )


def _placed(piece: Piece, thing: Embedded, units: UnitSystem) -> Iterator[str]:
    many = f"{thing.count} " if thing.count > 1 else ""
    match thing.kind:
        case "mesh":
            yield _mesh(piece, thing, units)
        case "bar":
            yield _bars(piece, thing, units)
        case "loop":
            yield f"Press the {many}lifting loop{_s(thing)} into the mix when it is struck off, well apart."
        case "sleeve":
            yield f"Fix the {many}sleeve{_s(thing)} where you want {_them(thing)}, ends taped: the plan has no place."
        case "fibres":
            return


def _mesh(piece: Piece, thing: Embedded, units: UnitSystem) -> str:
    spacers = f"{thing.spacers} spacers of {show.length(thing.cover, units)}"
    many = f"{thing.count} sheets of mesh" if thing.count > 1 else "mesh"
    if thing.lies == "flat":
        return f"The {many}: flat, on {spacers} over {_ground(piece)}."
    if not isinstance(piece.form, Planar):
        return f"The {many}: upright, bent round in the wall, held off the sides by {spacers}."
    if thing.walls == 1:
        return f"The {many}: upright, along the {thing.lies}, held off the sides by {spacers}."
    walls = _walls(piece, along_length=thing.lies == "length")
    each, over = divmod(thing.count, len(walls))
    if not each:
        return f"The {many}: upright in the {walls[0]} wall only, held off its side by {spacers}."
    share = _shared(walls, each, over)
    return f"The {many}: upright, {share}, held off the sides of the mold by {spacers}."


def _bars(piece: Piece, thing: Embedded, units: UnitSystem) -> str:
    spacers = f"{thing.spacers} spacers of {show.length(thing.cover, units)}"
    bars = f"{thing.count} bars" if thing.count > 1 else "bar"
    if thing.lies == "height":
        return f"The {bars}: upright, evenly round the piece, held off the sides by {spacers}."
    if thing.walls == 1:
        marks = _marks(thing, thing.count, units)
        side = "front" if thing.lies == "length" else "left"
        return (
            f"The {bars}: along the {thing.lies}, middles {marks} from the {side} side, on {spacers} over "
            f"{_ground(piece)}."
        )
    walls = _walls(piece, along_length=thing.lies == "length")
    each, over = divmod(thing.count, len(walls))
    share = _shared(walls, each, over) if each else f"in the {walls[0]} wall only"
    marks = _marks(thing, max(1, each + (1 if over else 0)), units)
    return (
        f"The {bars}: along the {thing.lies}, {share}, {marks} from the rim, held off the sides by {spacers}."
    )


def _shared(walls: Sequence[str], each: int, over: int) -> str:
    """How many stand in each of two walls."""
    if not over:
        return f"{'one' if each == 1 else each} in each of the {walls[0]} and {walls[1]} walls"
    return f"{each + over} in the {walls[0]} and {each} in the {walls[1]} wall"


def _marks(thing: Embedded, count: int, units: UnitSystem) -> str:
    """Middles of bars shared out over their spread, the outermost with their cover."""
    first = thing.cover + thing.diameter / 2.0
    step = (thing.spread - 2.0 * first) / (count - 1) if count > 1 else 0.0
    said = [show.length(first + step * i, units) for i in range(count)]
    if count == 1 and thing.walls == 1:
        said = [show.length(thing.spread / 2.0, units)]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _ground(piece: Piece) -> str:
    """What a thing that lies flat is held off."""
    standing = any(one.kind == "core" and one.seat == "base" for one in piece.form.formers)
    return "the cap of the core" if standing and piece.turned_over else "the base"


def _walls(piece: Piece, *, along_length: bool) -> tuple[str, str]:
    """The two walls that run one way, by the sides that the piece names; only planar pieces have such."""
    if not isinstance(piece.form, Planar):
        return "one", "other"
    axis = 1 if along_length else 0
    sides = [face for face in piece.form.faces if face.role == "panel"]
    ranked = sorted(sides, key=lambda face: face.half.normal[axis])
    return ranked[0].name, ranked[-1].name


def _s(thing: Embedded) -> str:
    return "s" if thing.count > 1 else ""


def _them(thing: Embedded) -> str:
    return "them" if thing.count > 1 else "it"
