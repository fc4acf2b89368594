"""Tightness by pressure decay: is the gas train losing gas?

A sealed manometer follows the temperature: at 11 in w.c. one °F is about 0.79 in. So the
fall is corrected to the end temperature with absolute pressures before anything is said, and
the answer is "cannot tell" where the instruments or the time were not enough to see a leak.

Sources: temperature correction as in UFGS 15195N, `PF + 14.7 = (P1 + 14.7)(T2 + 460)/(T1 + 460)`;
10 to 14 in w.c. for 10 minutes with a manometer readable to 0.1 in w.c., UFGS 15190A; no drop
in 3 minutes at the same reading for the shorter check, read in a reprint of the fuel gas
code; decay to rate is the ideal gas.
"""

from dataclasses import dataclass

from shopdesk.domain.gas.elevation import pressure_ratio
from shopdesk.domain.measured import Limit, Result, Sentence, figure, figure_as, sentence, within
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import ATMOSPHERE_INWC, HALF_PSI_INWC

ZERO_F = 460.0  # the published formula's figure for absolute zero below 0 °F
READABLE = Limit(0.1, "in w.c.", "readable division of the manometer", "UFGS 15190A")
MINUTES = Limit(10, "min", "length of the test, volume not known", "UFGS 15190A")
LEAST_MINUTES = Limit(3, "min", "length of the shortest check, no drop", "fuel gas code, read in a reprint")
SMALLEST_LEAK = Limit(
    0.007, "ft³/h", "leak that must show (200 cm³/h)", "leakage allowed to a gas valve, from memory"
)
LEAST_PRESSURE = Limit(
    3.5, "in w.c.", "lowest test pressure, the customary manifold pressure", "several appliance instructions"
)
THERMOMETER_F = 0.1  # taken as the thermometer's division when none is given

# A fall up to half of what the instruments cannot tell apart counts as none, one above two and a half
# times and a bit as a leak. The gap is more than twice that figure, so errors of less than a division on
# each of the four readings never carry an answer from one side to the other.
_NO_FALL = 0.5
_A_FALL = 2.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Decay:
    """Readings of one decay test; gauge pressures in w.c., °F, None where nobody read it."""

    start_inwc: float
    end_inwc: float
    minutes: float
    start_f: float | None = None
    end_f: float | None = None
    resolution_inwc: float | None = None
    thermometer_f: float = THERMOMETER_F
    volume_cuft: float | None = None
    elevation_ft: float = 0.0
    smallest_leak_cfh: float = SMALLEST_LEAK.figure

    def __post_init__(self) -> None:
        for inwc, field in ((self.start_inwc, "start_inwc"), (self.end_inwc, "end_inwc")):
            text = "A gauge pressure of {value} in w.c. is outside {low} to {high} in w.c. Read it again."
            within(inwc, -400, 1700, text, field=field, of=Quantity.PRESSURE)
        within(
            self.start_inwc,
            0.1,
            1700,
            "A test starts above nought, not at {value} in w.c.",
            field="start_inwc",
            of=Quantity.PRESSURE,
        )
        for temperature, field in ((self.start_f, "start_f"), (self.end_f, "end_f")):
            if temperature is not None:
                text = "A shop at {value} °F is outside {low} to {high} °F. Read the thermometer again."
                within(temperature, -20, 150, text, field=field, of=Quantity.TEMPERATURE)
        text = "A test of {value} minutes is outside {low} minutes to a day ({high})."
        within(self.minutes, 0.05, 1440, text, field="minutes")
        if self.resolution_inwc is not None:
            text = "A manometer readable to {value} in w.c. is of no use; give {low} to {high} in w.c."
            within(self.resolution_inwc, 0.0001, 20, text, field="resolution_inwc", of=Quantity.PRESSURE)
        text = "A thermometer readable to {value} °F is of no use; give {low} to {high} °F."
        within(self.thermometer_f, 0, 20, text, field="thermometer_f", of=Quantity.WARMTH)
        if self.volume_cuft is not None:
            text = "A volume of {value} ft³ is outside {low} to {high} ft³."
            within(self.volume_cuft, 0.0005, 1000, text, field="volume_cuft", of=Quantity.VOLUME)
        text = "A leak of {value} ft³/h is outside {low} to {high} ft³/h."
        within(self.smallest_leak_cfh, 0.00001, 1, text, field="smallest_leak_cfh", of=Quantity.FLOW)

    @property
    def atmosphere_inwc(self) -> float:
        return ATMOSPHERE_INWC * pressure_ratio(self.elevation_ft)


@dataclass(frozen=True, slots=True)
class DecayAnswer:
    """`corrected_drop_inwc` positive: gas was lost; None without both temperatures.

    `unseen_inwc`: what these instruments cannot tell apart. `leak_cfh`: the corrected drop as
    a rate (standard ft³/h, not below nought), `visible_leak_cfh`: the smallest leak this test
    would have shown for certain; both None without the volume.
    """

    result: Result
    says: tuple[Sentence, ...]
    corrected_drop_inwc: float | None
    expected_end_inwc: float | None
    unseen_inwc: float | None
    leak_cfh: float | None
    visible_leak_cfh: float | None
    minutes_needed: float | None


def corrected_end(start: float, start_f: float, end_f: float, atmosphere: float) -> float:
    """The gauge pressure a tight vessel would end at; any unit, the same as `atmosphere`."""
    return (start + atmosphere) * (end_f + ZERO_F) / (start_f + ZERO_F) - atmosphere


def decay_to_cfh(volume_cuft: float, drop_inwc: float, minutes: float, temperature_f: float) -> float:
    """Leak rate in standard ft³/h (60 °F, one atmosphere) from a corrected drop."""
    per_hour = volume_cuft * drop_inwc / ATMOSPHERE_INWC * 60 / minutes
    return per_hour * 520 / (temperature_f + ZERO_F)


def judge_decay(test: Decay) -> DecayAnswer:
    """What a decay test shows: meets, does not meet or cannot tell, and why."""
    if test.start_f is None or test.end_f is None:
        return _unanswered(
            "Both temperatures are needed: here {warmer} °F moves a sealed manometer by {inches} in w.c.",
            warmer=figure(1, 2, Quantity.WARMTH),
            inches=figure((test.start_inwc + test.atmosphere_inwc) / (70 + ZERO_F), 2, Quantity.PRESSURE),
        )
    expected = corrected_end(test.start_inwc, test.start_f, test.end_f, test.atmosphere_inwc)
    drop = expected - test.end_inwc
    if test.resolution_inwc is None:
        leak = _rate(test, drop, test.end_f)
        return _unanswered(
            "The corrected fall is {drop} in w.c.; without the manometer's resolution it says nothing.",
            drop=figure(drop, 3, Quantity.PRESSURE),
            answer=(drop, expected, leak),
        )
    per_f = (test.start_inwc + test.atmosphere_inwc) / (test.start_f + ZERO_F)
    warming = max(1.0, (test.end_f + ZERO_F) / (test.start_f + ZERO_F))
    unseen = (test.resolution_inwc + per_f * test.thermometer_f) * warming
    visible = _rate(test, _A_FALL * unseen, test.end_f)
    result, says, needed = _judge(test, drop, unseen, visible)
    return DecayAnswer(
        result=result,
        says=(_what_happened(test, drop, expected), *says, *_remarks(test)),
        corrected_drop_inwc=drop,
        expected_end_inwc=expected,
        unseen_inwc=unseen,
        leak_cfh=_rate(test, drop, test.end_f),
        visible_leak_cfh=visible,
        minutes_needed=needed,
    )


def _rate(test: Decay, drop_inwc: float, temperature_f: float) -> float | None:
    if test.volume_cuft is None:
        return None
    return max(0.0, decay_to_cfh(test.volume_cuft, drop_inwc, test.minutes, temperature_f))


def _unanswered(
    text: str, *, answer: tuple[float, float, float | None] | None = None, **facts: object
) -> DecayAnswer:
    drop, expected, leak = answer or (None, None, None)
    says = (sentence(text, **facts),)
    return DecayAnswer(Result.CANNOT_TELL, says, drop, expected, None, leak, None, None)


def _judge(
    test: Decay, drop: float, unseen: float, visible: float | None
) -> tuple[Result, tuple[Sentence, ...], float | None]:
    facts = {"drop": figure(abs(drop), 3, Quantity.PRESSURE), "unseen": figure(unseen, 3, Quantity.PRESSURE)}
    if drop > _A_FALL * unseen:
        text = (
            "A fall of {drop} in w.c. is more than temperature and resolution ({unseen} in w.c.) explain. "
            "Something leaks; no leak is small. Find it with leak fluid and test again."
        )
        return Result.DOES_NOT_MEET, (sentence(text, **facts),), None
    if drop < -unseen:
        text = (
            "The pressure rose by {drop} in w.c. more than the temperature explains ({unseen} in w.c. goes "
            "unseen). A valve lets air in, or a reading is wrong. Test again."
        )
        return Result.CANNOT_TELL, (sentence(text, **facts),), None
    if drop > _NO_FALL * unseen:
        text = (
            "A fall of {drop} in w.c. may be the instruments ({unseen} in w.c. goes unseen) or a leak. "
            "Let the temperature settle and test for longer."
        )
        return Result.CANNOT_TELL, (sentence(text, **facts),), None
    short, needed = _not_enough(test, unseen, visible)
    if short:
        return Result.CANNOT_TELL, (short,), needed
    text = "The corrected change lies within temperature and resolution ({unseen} in w.c. goes unseen)."
    seen = "A leak of {leak} ft³/h would have shown."
    would = (sentence(seen, leak=figure_as(visible, ".2g", Quantity.FLOW)),) if visible is not None else ()
    return Result.MEETS, (sentence(text, **facts), *would), None


def _not_enough(test: Decay, unseen: float, visible: float | None) -> tuple[Sentence | None, float | None]:
    """Why a test without a fall still proves nothing, and the minutes that would."""
    if test.start_inwc < LEAST_PRESSURE.figure:
        text = "No fall was seen, but {start} in w.c. is too little to test at; raise it to {least} or more."
        return sentence(
            text,
            start=figure(test.start_inwc, 2, Quantity.PRESSURE),
            least=figure(LEAST_PRESSURE.figure, 2, Quantity.PRESSURE),
        ), None
    if (test.resolution_inwc or 0) > READABLE.figure * 1.01:
        text = "No fall was seen, but the manometer must be readable to {readable} in w.c. to see one."
        return sentence(text, readable=figure(READABLE.figure, 2, Quantity.PRESSURE)), None
    if visible is None:
        return _not_enough_without_volume(test, unseen)
    needed = max(LEAST_MINUTES.figure, test.minutes * visible / test.smallest_leak_cfh)
    if test.minutes < needed * 0.999:
        text = (
            "No fall was seen, but {minutes} minutes are too short to see a leak of {leak} ft³/h in this "
            "volume with these instruments; it takes {needed} minutes."
        )
        facts = {
            "minutes": figure(test.minutes, 1),
            "leak": figure(test.smallest_leak_cfh, 4, Quantity.FLOW),
            "needed": figure(needed, 1),
        }
        return sentence(text, **facts), needed
    return None, None


def _not_enough_without_volume(test: Decay, unseen: float) -> tuple[Sentence | None, float | None]:
    if test.minutes < MINUTES.figure * 0.999:
        text = (
            "No fall was seen, but without the volume {minutes} minutes are too short; it takes {needed} "
            "minutes, or the volume."
        )
        needed = MINUTES.figure
        return sentence(text, minutes=figure(test.minutes, 1), needed=figure(needed)), needed
    if unseen > 2 * READABLE.figure:
        text = (
            "No fall was seen, but {unseen} in w.c. would go unseen with this thermometer. Read it more "
            "finely, or give the volume."
        )
        return sentence(text, unseen=figure(unseen, 2, Quantity.PRESSURE)), None
    return None, None


def _what_happened(test: Decay, drop: float, expected: float) -> Sentence:
    return sentence(
        "From {start} to {end} in w.c. in {minutes} minutes; temperature alone would have given {expected}. "
        "Corrected fall {drop} in w.c.",
        start=figure(test.start_inwc, 2, Quantity.PRESSURE),
        end=figure(test.end_inwc, 2, Quantity.PRESSURE),
        minutes=figure(test.minutes, 1),
        expected=figure(expected, 3, Quantity.PRESSURE),
        drop=figure(drop, 3, Quantity.PRESSURE),
    )


def _remarks(test: Decay) -> tuple[Sentence, ...]:
    if test.start_inwc > HALF_PSI_INWC * 1.01:
        text = (
            "The test stood above 1/2 psi (13.8 in w.c.): that is for piping alone, with controls and "
            "regulators off. One that was left on is suspect now."
        )
        return (sentence(text),)
    return ()
