"""The steps of putting a panelled mold together: at the bench once, then what is done before every filling."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from formwork.geometry.cells import Cell, box_of
from formwork.geometry.vectors import dot
from formwork.molds.assembly import Told, all_of, any_of, of_group, of_role, steps_of
from formwork.molds.bearers import ON_TRESTLES, REACHED, Bearers, setting_down
from formwork.molds.joints import held_from_below
from formwork.molds.mold import AssemblyStep, Part
from formwork.molds.panels import diagonals, plug_places
from formwork.molds.panels.base_boards import battens
from formwork.molds.panels.bracing import hooped
from formwork.molds.panels.core_box import stays_on_base
from formwork.molds.panels.core_ribs import level_plates, upright_ribs
from formwork.molds.panels.lining import Frame
from formwork.molds.panels.rib_places import middle_along
from formwork.molds.panels.splices import behind_joints
from formwork.shapes.piece import Former, Plug
from formwork.strength.working import Unjudged
from formwork.units import show


def assembly(frame: Frame, parts: Sequence[Part], under: Bearers | Unjudged) -> tuple[AssemblyStep, ...]:
    """The steps in their order; none at the bench for a mold that the shop has.

    Args:
        frame: the mold.
        parts: everything cut.
        under: what the base may lie on.
    """
    owned = frame.options.owned is not None
    bench = () if owned else tuple(_at_the_bench(frame, parts))
    return steps_of((*bench, *_setting_up(frame, parts, under)), parts)


_DRAWN = "Draw on it, full size, the outline of the cavity and of every core, from its middle lines."


def fasten(frame: Frame) -> str:
    """The verb for what is undone at every filling."""
    return "bolt" if frame.stocks.bolted else "screw"


def cores_of(frame: Frame) -> list[Former]:
    """The cores of the piece."""
    return [former for former in frame.form.formers if former.kind == "core"]


def _sides(parts: Sequence[Part]) -> tuple[str, ...]:
    """The groups of the panels."""
    return tuple(part.group for part in parts if part.role == "panel")


def _at_the_bench(frame: Frame, parts: Sequence[Part]) -> Iterator[Told]:
    """What is made once: cores, dividers, panels with their sticks, boards and strips."""
    cores, sides = cores_of(frame), of_group(*_sides(parts))
    if cores:
        made = all_of(of_group(*(core.name for core in cores)), lambda part: part.role not in ("plug", "bar"))
        yield from _plugs(
            frame, parts, [plug for plug in frame.piece.plugs if _on_core(frame, plug)], bench=True
        )
        yield Told(_core_made(frame, parts, cores), made, bench=True)
    yield from _laid_up(parts)
    if battens(parts):
        yield Told(
            "Draw the boards of the base together face down, sealant in the joint, and screw the battens over their "
            "joints from behind, a row into each board; turn them over, scrape the joints flush and tape them.",
            all_of(of_group("base"), of_role("base", "batten")),
            bench=True,
        )
    yield Told(_panels_made(frame, parts), all_of(sides, of_role("panel", "cleat", "rail")), bench=True)
    if behind_joints(parts):
        yield Told(
            "The boards of a long panel meet end to end, sealant in the joint, under the rails that run over it: screw "
            "the short battens behind each joint between the rails, a row into either board; scrape the joints flush "
            "and tape them.",
            all_of(sides, of_role("batten")),
            bench=True,
        )
    yield from _lined(parts)
    yield Told(
        "Before the first filling seal every cut edge and every face the mix touches and let it dry; mark inside, "
        "outside and up on every part. Good faces go towards the mix.",
        bench=True,
    )


def _core_made(frame: Frame, parts: Sequence[Part], cores: Sequence[Former]) -> str:
    """How the walls of a core are held, and what its box must measure."""
    inside = {part.role for part in parts if part.group == cores[0].name}
    each = "the core" if len(cores) == 1 else "each core"
    if "core cap" not in inside:
        return f"Glue {each} up from layers and plane it to its size and its slopes."
    own = [part for part in parts if part.group == cores[0].name]
    held = "to one another, glued, and to the plate in the open end"
    if "cleat" in inside:
        held = "to the cleats in the corners and the end rails"
    elif level_plates(own):
        held = "to the edges of the plates inside"
    deep = max((part.layers for part in level_plates(own)), default=1)
    laid_up = f"glue up the {deep} layers of the plate in its open end; " if deep > 1 else ""
    return (
        f"Make {each}: {laid_up}screw its walls {held}, good faces outside.{_core_square(frame, cores)}"
        f"{_core_ribs(frame, own)} Then screw the cap on, flush all round; sink every head and fill it."
    )


def _core_ribs(frame: Frame, core: Sequence[Part]) -> str:
    """Where the upright ribs of a core stand, measured along the walls they hold."""
    ribs = upright_ribs(core)
    if not ribs:
        return ""
    walls = [part for part in core if part.role == "core wall"]
    way = ribs[0].placement.into
    first = min(walls, key=lambda wall: middle_along(wall, way))
    end = min(dot(way, point) for point in frame.formers[first.group].points())
    places = sorted(middle_along(rib, way) - end for rib in ribs)
    marks = " and ".join(show.length(place, frame.units) for place in places)
    many = "s" if len(ribs) > 1 else ""
    return (
        f" Set the rib{many} upright between the walls, the middle{many} {marks} from the outside of {first.name} at "
        "the open end, and screw through the walls into the edges."
    )


def _core_square(frame: Frame, cores: Sequence[Former]) -> str:
    found = {
        diagonals.told(diagonals.diagonals(diagonals.corners_at(body, _open_end(body, core))), frame.units)
        for core in cores
        for body in (frame.formers[core.name],)
    }
    figure = found.pop() if len(found) == 1 else ""
    return f" Compare the two diagonals over its open end: {figure}." if figure else ""


def _open_end(body: Cell, core: Former) -> float:
    """Height at which a core is open: its foot where it stands, its head where it hangs, m."""
    (_, _, low), (_, _, high) = body.box()
    return low if core.seat == "base" else high


def _on_core(frame: Frame, plug: Plug) -> bool:
    return plug.seat != "base" and plug.on in {core.name for core in cores_of(frame)}


def _plugs(
    frame: Frame, parts: Sequence[Part], plugs: Sequence[Plug], *, bench: bool = False
) -> Iterator[Told]:
    """Plugs on what holds them, and where; on a cap before it goes on the core, on whose ribs they might stand."""
    names, caps = {plug.name for plug in plugs}, {f"{plug.on} cap" for plug in plugs}
    holders = sorted({_holder(frame, plug) for plug in plugs})
    if not holders:
        return
    when = ", before it goes on" if bench else ""
    yield Told(
        f"Screw the drain plugs to {' and '.join(holders)}{when}, from behind, the heads sunk, each with its wide end "
        f"on what holds it; their middles {_setting_out(frame, parts, plugs)}.",
        lambda part: part.name in names or (bench and part.name in caps),
        bench=bench,
    )


def _setting_out(frame: Frame, parts: Sequence[Part], plugs: Sequence[Plug]) -> str:
    """Where plugs stand on the first of the faces that bear some: equal cores have equal caps."""
    first = plugs[0]
    own = [plug for plug in plugs if (plug.seat, plug.on) == (first.seat, first.on)]
    face = [part for part in parts if part.role == "base"]
    if first.seat != "base":
        face = [part for part in parts if first.on in (part.group, part.name) and part.role != "plug"]
    return plug_places.told(own, [cell for part in face for cell in part.cells], frame.units)


def _holder(frame: Frame, plug: Plug) -> str:
    if plug.seat == "base":
        return "the base"
    return "the cap of the core" if _on_core(frame, plug) else f"the {plug.on}"


def _laid_up(parts: Sequence[Part]) -> Iterator[Told]:
    """Dividers of several layers."""
    layers = {part.layers for part in parts if part.role == "divider"}
    if layers and max(layers) > 1:
        yield Told(
            f"Glue and screw the {max(layers)} layers of each divider together, flat, their edges flush.",
            of_role("divider"),
            bench=True,
        )


def _panels_made(frame: Frame, parts: Sequence[Part]) -> str:
    """Sticks on the panels, and where."""
    sides = _sides(parts)
    heights = sorted(
        {round(_middle(part), 5) for part in parts if part.role == "rail" and part.group in sides}
    )
    marks = " and ".join(show.length(height, frame.units) for height in heights)
    what = (
        "cleats and rails" if any(part.role == "cleat" and part.group in sides for part in parts) else "rails"
    )
    return (
        f"Screw the {what} to the outside of the panels, from the panel into the stick, the middles of the rails "
        f"{marks} above the base. Mark the outside of each panel first: left and right are mirrored."
    )


def _middle(part: Part) -> float:
    low, high = box_of(part.cells)
    return (low[2] + high[2]) / 2.0


def _lined(parts: Sequence[Part]) -> Iterator[Told]:
    """Boards, liners and strips, on the panels, on dividers and on the base."""
    dividers = (part.group for part in parts if part.role == "divider")
    held = of_group("base", *_sides(parts), *dividers)
    boards, strips = all_of(held, of_role("board", "liner")), all_of(held, of_role("strip"))
    if any(map(boards, parts)):
        yield Told(
            "Glue boards and liners to the faces that the mix touches, where they are drawn; screw them from behind.",
            boards,
            bench=True,
        )
    if any(map(strips, parts)):
        on_base = (
            of_role("base") if any(strips(part) and part.group == "base" for part in parts) else of_role()
        )
        yield Told(
            "Glue and pin the strips where they are drawn, their square backs hard against what carries them; sink "
            "the pins.",
            any_of(strips, on_base),
            bench=True,
        )


def _setting_up(frame: Frame, parts: Sequence[Part], under: Bearers | Unjudged) -> Iterator[Told]:
    """The steps of every filling. Sealant comes before release agent, on which it would not stick."""
    late, batten = held_from_below(frame), frame.stocks.stick.thickness if battens(parts) else 0.0
    setting = "" if late else setting_down(under, frame.units, _with_core(frame), batten)
    if (
        setting
        and frame.piece.cavities > 1
        and not all(stays_on_base(frame, one) for one in _standing(frame))
    ):
        setting = f"{setting} {REACHED}"
    yield from _based(frame, parts, setting)
    yield Told(_squaring(frame, parts), of_group(*_sides(parts)))
    yield from _hoops(frame)
    dividers = of_group(*(part.group for part in parts if part.role == "divider"))
    if any(map(dividers, parts)):
        yield Told(
            "Slide the dividers down between the two sides they meet and screw through those sides.", dividers
        )
    if late:
        yield Told(f"{setting_down(under, frame.units, 'the mold', batten)} {REACHED}")
    yield Told(
        "Run a bead of sealant along every seam, smooth it and let it skin; a fluid mix finds the smallest gap."
    )
    yield Told(
        "Only now wipe release agent on everything the mix touches, thin, and wipe off what stands: sealant does "
        "not stick where it has been."
    )
    if frame.piece.embedded:
        from formwork.molds.casting_in import casting_in  # noqa: PLC0415 - most pieces have nothing cast in

        yield from casting_in(frame.piece, parts, frame.units)
    yield from _hanging(frame, parts)


def _based(frame: Frame, parts: Sequence[Part], setting: str) -> Iterator[Told]:
    """The base with what is fastened to it from below, and how it is then set; empty where the sides come first."""
    plugs = [plug for plug in frame.piece.plugs if not _on_core(frame, plug)]
    base = all_of(of_group("base"), lambda part: part.role != "plug")
    standing = of_group(*(core.name for core in _standing(frame)))
    if plugs or _standing(frame) or not setting:
        yield Told(f"{ON_TRESTLES} {_DRAWN}", base)
    elif _outlined(frame):
        yield Told(_DRAWN, base)
    yield from _plugs(frame, parts, plugs)
    if any(map(standing, parts)):
        stay = all(stays_on_base(frame, core) for core in _standing(frame))
        yield Told(
            f"{'Screw' if stay else fasten(frame).capitalize()} each core to the base from below, where it is drawn, "
            f"before the sides close it in{'; it stays there from one filling to the next' if stay else ''}.",
            standing,
        )
    if setting:
        yield Told(setting, base)


def _standing(frame: Frame) -> list[Former]:
    """The cores that stand on the base."""
    return [core for core in cores_of(frame) if core.seat == "base"]


def _with_core(frame: Frame) -> str:
    """What is set down before the sides are joined."""
    count = len(_standing(frame))
    return "the base" if not count else f"the base with the core{'s' if count > 1 else ''} on it"


def _hanging(frame: Frame, parts: Sequence[Part]) -> Iterator[Told]:
    hung = of_group(*(core.name for core in cores_of(frame) if core.seat == "hung"))
    if any(map(hung, parts)):
        yield Told(
            f"Last, hang the core from its bars, centre it by measuring the wall at every corner, and "
            f"{fasten(frame)} the bars to the rim rails: the mix lifts the core with more than its weight.",
            hung,
        )


def _squaring(frame: Frame, parts: Sequence[Part]) -> str:
    """How the sides are joined and trued, and where they are joined otherwise than the project asks."""
    held = f"{fasten(frame)} the lowest rails to the base"
    if frame.options.base == "runs past":
        held = "screw the panels to the edges of the base"
    if held_from_below(frame):
        held = f"{fasten(frame)} the base to the lowest rails from below"
    line = f"Join the sides, {_true(frame, parts)}, then {held}; try a level along the top of every side."
    made = "mitred" if frame.mitred else "lapped"
    if made == frame.options.joint:
        return line
    why = "turn too little for a lap" if made == "mitred" else "are too sharp for a mitre"
    return f"{line} The corners {why}: they are {made}."


def _outlined(frame: Frame) -> bool:
    """The sides are trued by an outline on the base, for there are no two diagonals."""
    return len(frame.corners) != 4


def _true(frame: Frame, parts: Sequence[Part]) -> str:
    """How the corners are trued: by the diagonals of four sides, else by the outline."""
    figure = diagonals.told(_across(frame, parts), frame.units)
    if _outlined(frame) or not figure:
        return "try them on the outline drawn on the base"
    return f"compare the two diagonals inside at the top ({figure})"


def _across(frame: Frame, parts: Sequence[Part]) -> tuple[float, float] | None:
    """Both diagonals inside at the top, as a tape finds them between boards and strips that are already in, m."""
    sides = _sides(parts)
    own = [part for part in parts if part.group in sides]
    boards = [cell for part in own if part.role in ("board", "liner") for cell in part.cells]
    strips = [cell for part in parts if part.role == "strip" for cell in part.cells]
    bare = diagonals.corners_at(frame.body, frame.fill)
    corners = tuple(diagonals.beside(boards, corner, frame.fill) for corner in bare)
    return diagonals.between(frame.planes, corners, frame.fill, strips)


def _hoops(frame: Frame) -> Iterator[Told]:
    """What holds sides that have no cleats."""
    if hooped(frame):
        yield Told(
            "The rails of each height make a hoop: screw every mitre slantwise from both outsides, and draw a strap "
            "round each hoop before filling."
        )
