"""What is checked of a dome's form: skin, ribs, purlins, soles and wedges, the crown, lift, seams, and its way out."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import pi, sin

from formwork.checks.check import Check, Found, NotChecked, told
from formwork.geometry.ribs import ring_radius
from formwork.molds.dome.choice import passes
from formwork.molds.dome.loads import (
    bay_width,
    bolt_washer,
    crown_thrust,
    foot_force,
    lift,
    pressure_at,
    rod_washer,
    rods,
    seam_bolts,
    seam_pull,
    washer_grip,
    weight_on,
)
from formwork.molds.dome.plies import ending
from formwork.molds.dome.strip import ways_out
from formwork.molds.load import PANEL_LIMIT
from formwork.molds.ribbed import DomeMold
from formwork.molds.strengths import grade_of_stick, section_of, skin_of
from formwork.stock.records import StickStock
from formwork.strength.beams import bearing
from formwork.strength.customary import GRAVITY
from formwork.strength.lumber import Adjusted, Section, Service, adjust
from formwork.strength.panels import Bay, panel_verdicts
from formwork.strength.uplift import HoldDown, held_down
from formwork.strength.working import Step, Unjudged, Verdict, given, step, written

_EFFECTIVE = 0.5
"""Share of a rib's plies whose grain runs along it (ours)."""
_CONTACT = 0.1
NOT_MADE = (
    (
        "shell",
        "the shell itself, its ring steel at the springing and round openings: a licensed designer's matter",
    ),
    (
        "ground",
        "what the floor carries under the posts and packing, and what its anchors hold, is not computed",
    ),
)


def checks(built: DomeMold) -> tuple[Found, ...]:
    """What holds the mix, in the order in which a person would ask."""
    return (
        *_skin(built),
        *_rib(built),
        _purlin(built),
        _wedge(built),
        _crown(built),
        *_outer(built),
        *_way_out(built),
        *(NotChecked(name, built.mold.name, why) for name, why in NOT_MADE),
    )


def _head(built: DomeMold, z: float) -> tuple[Step, ...]:
    """The working of the pressure on the inner skin."""
    form, load = built.form, built.lined.asked.load
    if form.fluid:
        return load.weight_steps(z)
    t = form.shell.thickness
    return (
        step(
            "p",
            "rho * g * t_s / 1000000",
            pressure_at(form, load, z) / 1e6,
            "MPa",
            rho=load.density,
            g=GRAVITY,
            t_s=t,
        ),
    )


def _skin(built: DomeMold) -> Iterator[Found]:
    """The widest bay at the springing, and above each header the bay that is twice as wide."""
    form, load, name = built.form, built.lined.asked.load, built.mold.name
    section = skin_of(form.skin, form.layers)
    if isinstance(section, Unjudged):
        yield NotChecked("skin between ribs", name, section.why)
        return
    rows = []
    for bays, polar in ((1, min(form.shell.inside.springing, pi / 2.0)), *_doubled(built)):
        radius, z = form.shell.inside.point(polar)
        rows.append((bays, z, Bay(pressure_at(form, load, max(0.0, z)), bay_width(form, radius, bays))))
    for kind in zip(*(panel_verdicts(section, bay, PANEL_LIMIT) for *_, bay in rows), strict=True):
        missing = [one for one in kind if isinstance(one, Unjudged)]
        if missing:
            yield NotChecked(f"skin between ribs: {missing[0].name}", name, missing[0].why)
            continue
        judged = [(row, one) for row, one in zip(rows, kind, strict=True) if isinstance(one, Verdict)]
        (_, z, bay), worst = max(judged, key=lambda pair: pair[1].utilisation)
        span = given("l", bay.span * 1000.0, "mm", "between two ribs")
        remedy = "more ribs or another skin in the piece's mold table, or a lighter mix"
        yield told(f"skin between ribs: {worst.name}", name, worst, remedy, (*_head(built, z), span))


def _doubled(built: DomeMold) -> list[tuple[int, float]]:
    """Above each header: how many bays lie between the ribs that go on, and the header's polar angle."""
    return [(2 ** (i + 1), polar) for i, polar in enumerate(built.form.headers)]


def _rib(built: DomeMold) -> Iterator[Found]:
    """A rib between two purlins as a beam, with the thrust at its foot."""
    form, load, name = built.form, built.lined.asked.load, built.mold.name
    sheet = section_of(form.sheet, "across")
    if isinstance(sheet, Unjudged):
        yield NotChecked("ribs", name, sheet.why)
        return
    inside = form.shell.inside
    stops = (inside.springing, *form.hoops, inside.at_radius(form.top))
    span = max(inside.length(high, low) for low, high in pairwise(stops))
    w = pressure_at(form, load, 0.0) * bay_width(form, inside.r(min(inside.springing, pi / 2.0)))
    width = _EFFECTIVE * 2.0 * form.ply
    area, modulus = width * form.depth, width * form.depth**2 / 6.0
    thrust, bend = foot_force(form, load), w * span**2 / 8.0
    stress = bend / modulus + thrust / area
    on = weight_on(form, load)
    steps = (
        *on.steps,
        step("N", "W / (n * sin(f))", thrust, "N", W=on.force, n=form.count, f=inside.springing),
        given("w", w / 1000.0, "N/mm", "pressure at the springing times the width of a bay"),
        step("M", "w * l^2 / 8", bend * 1000.0, "N mm", w=w / 1000.0, l=span * 1000.0),
        given("b", width * 1000.0, "mm", "half of two plies, whose grain runs along"),
        step("S", "b * d^2 / 6", modulus * 1e9, "mm3", b=width * 1000.0, d=form.depth * 1000.0),
        step("f", "M / S + N / (b * d)", stress / 1e6, "MPa", M=bend * 1000.0, S=modulus * 1e9, N=thrust,
             b=width * 1000.0, d=form.depth * 1000.0),
        given("F_b", sheet.fb / 1e6, "MPa", sheet.source),
    )  # fmt: skip
    source = f"beam between purlins and thrust, statics; {sheet.source}"
    verdict = Verdict("bending and thrust", stress / 1e6, sheet.fb / 1e6, "MPa", source, steps)
    yield told(f"ribs: {verdict.name}", name, verdict, "more ribs, or a thicker sheet for them")


def _values(stick: StickStock) -> Adjusted:
    section = Section(stick.width, stick.thickness)
    return adjust(grade_of_stick(stick, section.width), section, Service())


def _purlin(built: DomeMold) -> Check:
    """Purlins hold the ribs as rings: what a rib brings to one presses it end on against the ribs beside it."""
    form, load = built.form, built.lined.asked.load
    inside = form.shell.inside
    stops = (inside.springing, *form.hoops, inside.at_radius(form.top))
    rows = [
        (
            pressure_at(form, load, max(0.0, inside.z(polar)))
            * inside.r(polar)
            * inside.length(above, below)
            / 2.0,
            polar,
        )
        for below, polar, above in zip(stops, stops[1:], stops[2:], strict=False)
    ] or [(0.0, stops[0])]
    force, polar = max(rows)
    face = form.strut.thickness * form.strut.width
    verdict = bearing(_values(form.strut), force, face)
    radius = inside.r(polar)
    steps = (
        *_head(built, max(0.0, inside.z(polar))),
        given("r", radius * 1000.0, "mm", "radius at the purlin that is worst off"),
        given(
            "F",
            force,
            "N",
            "pressure times radius times half of what lies between the purlins above and below",
        ),
    )
    return told("purlins as rings: bearing on the ribs", built.mold.name, verdict, "a stouter stick", steps)


def _wedge(built: DomeMold) -> Check:
    """What stands on the form, and the form itself, on a pair of wedges under each rib."""
    form, load = built.form, built.lined.asked.load
    on = weight_on(form, load)
    inner = GRAVITY * built.mold.mass - built.outer_weight
    each = (on.force + inner) / form.count
    verdict = bearing(_values(form.stick), each, form.stick.thickness * _CONTACT)
    steps = (
        *on.steps,
        given("G", inner, "N", "the form itself"),
        step("F", "(W + G) / n", each, "N", W=on.force, G=inner, n=form.count),
        given(
            "A",
            form.stick.thickness * _CONTACT * 1e6,
            "mm2",
            "of a pair of wedges in contact: half their length",
        ),
    )
    return told(
        "striking wedges: bearing",
        built.mold.name,
        verdict,
        "a stouter stick, or two pairs under each rib",
        steps,
    )


def _crown(built: DomeMold) -> Check:
    """The end of a rib against the crown's ring or hub, as if no purlin held it."""
    form, load = built.form, built.lined.asked.load
    thrust, face = crown_thrust(form, load), 2.0 * form.ply * form.depth
    verdict = bearing(_values(form.stick), thrust.force, face)
    kept = sum(ending(form, rib) is None for rib in range(form.count))
    steps = (
        step(
            "r",
            "n * t / (2 * pi)",
            1000.0 * ring_radius(kept, 2.0 * form.ply),
            "mm",
            n=kept,
            t=2000.0 * form.ply,
        ),
        given("r_c", form.top * 1000.0, "mm", "radius of the hub" if form.closed else "radius of the oculus"),
        *thrust.steps,
        given(
            "A", face * 1e6, "mm2", "end of a rib of two plies; sheet is taken to bear no better than a stick"
        ),
    )
    return told("ribs at the crown: bearing", built.mold.name, verdict, "deeper ribs, or more of them", steps)


def _outer(built: DomeMold) -> Iterator[Found]:
    """The outer form: held down against the lift of the mix, its seams against its push."""
    form, load = built.form, built.lined.asked.load
    if not form.fluid:
        return
    up, grip = lift(form, load), washer_grip(form, rod_washer(form, load, built.outer_weight))
    count = rods(form, load, built.outer_weight)
    total = grip.force * count
    shared = step("R_f", "n_f * R", total, "N", n_f=count, R=grip.force)
    verdict = held_down(
        "outer form held down",
        up.force,
        HoldDown(built.outer_weight, total),
        (*up.steps, *grip.steps, shared),
    )
    yield told(verdict.name, built.mold.name, verdict, f"more than {count} tie rods, or ballast on top")
    pull, bolt = seam_pull(form, load), washer_grip(form, bolt_washer(form, load))
    many = seam_bolts(form, load)
    held = many * bolt.force
    steps = (*pull.steps, *bolt.steps, step("R_s", "n * R", held, "N", n=many, R=bolt.force))
    seam = Verdict(
        "pull", pull.force, held, "N", "hydrostatics: push on an upright plane through the axis", steps
    )
    yield told("seams of the outer form", built.mold.name, seam, f"more than {many} bolts in each seam")


def _way_out(built: DomeMold) -> Iterator[Found]:
    """Every section must pass an opening, whole or in pieces; and the key section must come free."""
    form, name = built.form, built.mold.name
    if not ways_out(form):
        yield NotChecked(
            "form passes an opening",
            name,
            "the dome has none: it is lifted off its form, by a lift that its designer plans",
        )
        return
    locked = {group for group, _ in built.mold.locked}
    lines = []
    for section, (size, way) in passes(form, "inner").items():
        box = " x ".join(written(1000.0 * side) for side in size)
        how = f"passes the {way} whole" if way else "passes none" if section in locked else "passes in pieces"
        lines.append(f"{section}: box {box} mm {how}")
    yield Check(
        name="form passes an opening",
        mold=name,
        demand=float(len(locked)),
        capacity=0.0,
        unit="sections that stay inside",
        ok=not locked,
        source="two sides of the box round a section, or round each of its parts, against the clear opening",
        working=tuple(lines),
        remedy="; ".join(why for _, why in built.mold.locked),
    )
    if form.key_end < form.shell.inside.springing:
        yield _key(built)


def _key_rib(built: DomeMold) -> float:
    """Thickness of the first key rib as it stands, m: every ply of it once."""
    group = f"inner form key rib {built.form.key_ribs[0] + 1}"
    plies = {
        part.name.split(" segment")[0]: part.prisms[0].height
        for part in built.mold.parts
        if part.group == group
    }
    return sum(plies.values())


def _key(built: DomeMold) -> Check:
    """Drawn inward by its own depth, the key section comes nearer to its neighbours: the key ribs leave that much."""
    form = built.form
    depth, half = form.depth + form.lining, form.inner[0].bays * form.half
    needed, left = depth * sin(half), _key_rib(built)
    steps = (
        given("d", depth * 1000.0, "mm", "depth of ribs and skin"),
        given("a", half, "rad", "half the angle of the key section"),
        step("s", "d * sin(a)", needed * 1000.0, "mm", d=depth * 1000.0, a=half),
        given("t", left * 1000.0, "mm", "thickness of a key rib"),
    )
    verdict = Verdict(
        "play", needed * 1000.0, left * 1000.0, "mm", "geometry of a wedge between parallel gaps", steps
    )
    return told("key section comes free", built.mold.name, verdict, "thicker key ribs")
