"""What to do about a reading: steps, whether the batch still fits, and the batches that are left."""

from __future__ import annotations

from formwork.errors import RangeError
from formwork.mix.batches import batches
from formwork.mix.cellular import design
from formwork.mix.limits import refuse_wanted
from formwork.mix.pour_records import Batch
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer
from formwork.pour.correction import Correction, Slurry
from formwork.pour.reading import Verdict
from formwork.record import record

START_HEAVY = (
    "Put in 80 to 90 % of the foam first and weigh: a mix that is a little heavy is easily brought down with foam, one "
    "that is too light is hard to bring back (common practice)."
)
ONCE = (
    "One correction to a batch; if the next reading is out as well, do not pour it where it matters "
    "(common practice)."
)
AGAIN = "Weigh again before pouring: the correction is an estimate, the cup decides."
NO_RODDING = (
    "Fill the cup in one go, tap its side, strike it off; do not rod or shake it, which breaks foam "
    "(common practice)."
)


@record
class Rest:
    """What is still to be mixed after a batch.

    Attributes:
        volume: that must still leave the mixer, m3; 0 where this batch is enough.
        batches: the loads for it.
        over: mix of this batch beyond what is needed, m3.
    """

    volume: float
    batches: tuple[Batch, ...]
    over: float


def steps(verdict: Verdict, made: Correction) -> tuple[str, ...]:
    """What to do, in order, after a reading.

    Args:
        verdict: on the reading.
        made: the correction.
    """
    if verdict == "as wanted":
        return ("Pour it.", NO_RODDING)
    leave = (
        ("It may be poured as it is; correct it where the piece matters.",)
        if verdict == "in tolerance"
        else ()
    )
    if made.adds == "foam":
        do = "Weigh or time the foam, add it and blend for one to two minutes (common practice)."
    else:
        do = (
            "Mix the slurry by itself until it has no lumps, then add it and blend; never dry cement, which draws its "
            "water out of the foam (common practice)."
        )
    return (*leave, do, AGAIN, ONCE, START_HEAVY, NO_RODDING)


def mix_to_take_out(made: Correction, mixer: Mixer) -> float:
    """Mix to take out of the mixer before a correction, so that the corrected batch fits, m3.

    Everything that is added is then less in the same measure. Source: proportion.

    Args:
        made: the correction of the whole batch.
        mixer: at hand.
    """
    if made.volume <= mixer.holds * (1.0 + 1e-9):
        return 0.0
    return made.volume_before * (1.0 - mixer.holds / made.volume)


def rest(
    needed: float, made: Correction, wanted: CellularWanted, cement: Cement, foam: Foam, mixer: Mixer
) -> Rest:
    """The batches that are still to be mixed, this one as corrected.

    What leaves the mixer of this batch is its volume less the residue; the rest is mixed in equal batches, with foam of
    the survival given.

    Args:
        needed: mix that the molds still need, this batch included, m3.
        made: this batch as corrected, or as it stands.
        wanted: the mix.
        cement: at hand.
        foam: at hand, its survival as last learnt.
        mixer: at hand.

    Raises:
        RangeError: for a volume of 0 or less, or a mixer that cannot make the rest.
    """
    if not 0.0 < needed < float("inf"):
        raise RangeError(f"mix still needed: got {needed:g} m3, want more than 0")
    left = needed - (made.volume - mixer.residue)
    if left <= 1e-9 * needed:
        return Rest(0.0, (), max(-left, 0.0))
    return Rest(left, batches(left, design(wanted, cement, foam), mixer, foam), 0.0)


def slurry_of(wanted: CellularWanted, cement: Cement) -> Slurry:
    """The slurry of a mix as it goes into the mixer; fibres are blended in after it, and are not of it.

    Args:
        wanted: the mix.
        cement: at hand.

    Raises:
        RangeError: for proportions that no slurry has.
    """
    refuse_wanted(wanted)
    return Slurry(
        wanted.water_cement,
        wanted.sand,
        wanted.ash,
        cement.gravity,
        wanted.sand_gravity,
        wanted.ash_gravity,
        wanted.others,
    )
