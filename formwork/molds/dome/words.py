"""What a person must know to set up, fill, ease and strike a dome's form, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, degrees, sin

from formwork.molds.assembly import Takes, Told, all_of, numbered, of_group, of_role, steps_of
from formwork.molds.dome.choice import passes
from formwork.molds.dome.form import DomeForm
from formwork.molds.dome.loads import rods
from formwork.molds.dome.rings import BASE, WEDGES
from formwork.molds.dome.strip import ways_out
from formwork.molds.label import label
from formwork.molds.load import Load
from formwork.molds.mold import AssemblyStep, Part
from formwork.units import show

HIGHEST_PORT = 0.6
"""Greatest height from one pair of ports to the next, m (ours): mix that falls further separates or loses its foam."""


def port_heights(form: DomeForm, load: Load) -> tuple[float, ...]:
    """Heights over the springing above which there are ports, m: the ends of the lifts, and others between them."""
    each = max(1, ceil(load.lift / HIGHEST_PORT - 1e-9))
    return tuple(load.lift * i / each for i in range(1, each * load.lifts))


def assembly(form: DomeForm, load: Load, weight: float, parts: Sequence[Part]) -> tuple[AssemblyStep, ...]:
    """The steps of setting up and placing.

    Args:
        form: the form.
        load: the mix.
        weight: of the outer form, N.
        parts: everything cut.
    """
    placing = _fluid(form, load, weight) if form.fluid else map(Told, _stiff(form, load))
    return steps_of((*_setting_up(form, parts), *placing), parts)


def instructions(
    form: DomeForm, load: Load, steps: Sequence[AssemblyStep], *, owned: bool
) -> tuple[str, ...]:
    """The label, then every step.

    Args:
        form: the form.
        load: the mix.
        steps: of setting up and placing.
        owned: the shop has the form already.
    """
    return (
        label(load, form.units, owned=owned),
        _formed(form),
        *numbered(steps),
        *_striking(form),
    )


def _formed(form: DomeForm) -> str:
    off = form.shell.inside.r(form.shell.inside.springing)
    bow = show.length(off * 2.0 * sin(form.half / 2.0) ** 2, form.units)
    layers = "one layer" if form.layers == 1 else f"{form.layers} layers, their joints in height staggered"
    crown = f" The crown is flat over {show.length(2.0 * form.top, form.units)}." if form.closed else ""
    return (
        f"The skin is {form.skin.name} in {layers}, bent flat from rib to rib: the shell is formed with {form.count} "
        f"facets, whose middles lie {bow} inside the round at the springing.{crown}"
    )


def _setting_up(form: DomeForm, parts: Sequence[Part]) -> Iterator[Told]:
    units = form.units
    yield Told(
        f"Set out the springing and the directions of all {form.count} ribs on a level floor; stand the posts on it "
        f"and screw the base boards to them, their inner upper edge {show.length(form.drop, units)} over the floor; "
        "bevel that edge to the skirt of the skin.",
        of_group(BASE),
    )
    yield Told(
        "Make the ribs flat on the floor over a full-size drawing: glue and screw the plies, joints staggered, splice "
        "plates over the joints of single plies; plane the bevel of the edge that carries the skin.",
        _ribs_of_one_section(parts),
        bench=True,
    )
    yield Told(
        "Stand the inner form's sections on soles, folding wedges and packing, purlins between the ribs; fix the ribs "
        f"to the crown's {'hub' if form.closed else 'ring'}, which stands on a prop until all are in; bolt the "
        "sections together, the key section last, a key rib on each side of it.",
        all_of(_frame_of("inner"), lambda part: part.role != "skin"),
    )
    yield Told(
        "Bend the gores over the ribs from the middle of each outward and screw them; close every joint with sealant, "
        "smooth it, then wipe release agent on thin.",
        all_of(_frame_of("inner"), lambda part: "strap" not in part.name),
    )
    if form.headers:
        yield Told(
            "Ribs end at headers where they crowd; above, glue a strap of skin behind the joint of the two gores, its "
            "grain across the joint.",
            _frame_of("inner"),
        )
    shut = of_role("board")
    if any(map(shut, parts)):
        yield Told(
            "Set the boards of every opening between the two faces of the shell, scribed to the form they stand on; "
            "screw them to one another and to its ribs.",
            shut,
        )


def _fluid(form: DomeForm, load: Load, weight: float) -> Iterator[Told]:
    units = form.units
    ports = ", ".join(show.length(z, units) for z in port_heights(form, load))
    above = f"just above {ports} over the springing, and two by the crown" if ports else "by the crown"
    yield Told(
        f"Saw two ports for filling, a hand wide, in opposite gores of the outer form {above}; keep the pieces as "
        "shutters. Bore vents of 10 mm under every purlin and round the crown."
    )
    yield Told(
        "Set up the outer form's sections, bolt their seams, and check the thickness with blocks that are taken out "
        "through the ports.",
        _frame_of("outer"),
    )
    yield Told(
        f"Hold the outer form down with {rods(form, load, weight)} tie rods to anchors before any mix goes in: the mix "
        "lifts it as soon as it stands above the first leaning gore."
    )
    joints = ", ".join(show.length(load.lift * i, units) for i in range(1, load.lifts))
    lifts = (
        f"in lifts, each set before the next, that end at {joints} over the springing"
        if joints
        else "in one go"
    )
    yield Told(
        f"Place the mix {lifts}; fill by two opposite ports in turn, so that it stands equally high all round; close "
        "each pair when it is reached, fill on by the next, and close the vents as they weep."
    )
    if joints:
        yield Told("Roughen and wet each joint before the next lift; ask the designer whether bars cross it.")


def _frame_of(side: str) -> Takes:
    """Takes the form on one side of the shell; with the inner one what it stands on."""
    own = (WEDGES,) if side == "inner" else ()
    return lambda part: part.group.startswith(f"{side} ") or part.group in own


def _ribs_of_one_section(parts: Sequence[Part]) -> Takes:
    """Takes the ribs of a section that is not the key section, to be drawn for all of them."""
    groups = [part.group for part in parts if part.role == "rib" and "key" not in part.group]
    return all_of(of_role("rib"), of_group(*groups[:1]))


def _stiff(form: DomeForm, load: Load) -> Iterator[str]:
    slope = degrees(form.shell.inside.springing)
    foam = " A foamed mix runs off." if load.cellular else ""
    yield (
        f"Heap the mix on a board at {slope:.0f} degrees first: it must stay where it is put; what slumps there runs "
        f"off the form.{foam}"
    )
    yield (
        f"Build the shell up in rings from the springing, all round at the same height, to thickness blocks of "
        f"{show.length(form.shell.thickness, form.units)}; trowel each ring before the next; nobody stands on the form."
    )


def _striking(form: DomeForm) -> Iterator[str]:
    yield (
        "Nobody goes under the dome before its designer's strength is reached on specimens kept beside it; then ease "
        "the wedges a little, going round, and watch it for a day before the form comes apart."
    )
    ways = ways_out(form)
    if not ways:
        yield (
            "The dome has no opening: it is lifted off its form, by a lift that its designer plans; nobody crawls "
            "under it to take the form out."
        )
        return
    yield from _passing(form)


def _passing(form: DomeForm) -> Iterator[str]:
    found = passes(form, "inner")
    largest = max(found.values(), key=lambda one: one[0][1])
    size = " x ".join(show.length(side, form.units) for side in largest[0])
    whole = [way for _, way in found.values() if way]
    if len(whole) == len(found):
        yield f"Every section passes the {whole[0]} whole; the largest is {size} over all. "
    else:
        yield (
            f"Sections of {size} pass no opening whole: take them apart inside, skin off the ribs from the lower "
            "edge up, and pass the pieces out one by one."
        )


def notes(form: DomeForm, nominal: float, formed: float) -> tuple[str, ...]:
    """What the piece's reader must know of how it is formed."""
    share = 100.0 * (formed / nominal - 1.0)
    return (
        f"Formed on {form.count} ribs the shell holds {show.volume(formed, form.units)}; turned it would hold "
        f"{show.volume(nominal, form.units)} ({share:+.2f} %).",
    )
