"""Carbon monoxide, oven by oven and burner by burner, with its scale, and the room while it burned."""

from shopdesk.domain.build import Build
from shopdesk.domain.combustion import Sample, Scale, judge_co
from shopdesk.domain.measured import Sentence, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import Asked, Judged, ProofForm, Values, together
from shopdesk.domain.proof_forms.burner_names import oven_burners, top_burners
from shopdesk.domain.quantity import Quantity

_SCALES = (("as measured", "as measured"), ("air-free", "air-free"))


def oven(build: Build) -> ProofForm:
    return _form("co-oven", oven_burners(build), "Probe in the flue, second re-heat")


def burners(build: Build) -> ProofForm:
    return _form("co-burners", top_burners(build), "Probe 8 in above each burner")


def _form(code: str, names: tuple[str, ...], group: str) -> ProofForm:
    fields = [
        Asked(
            name="room_before_ppm", label="Room before", quantity=Quantity.PPM, group="The room",
            required="Read the room before anything is lit.",
        ),
        Asked(
            name="room_ppm", label="Room, highest while it burned", quantity=Quantity.PPM,
            required="Read the room while it burned.", note="At 35 ppm: stop, leave, ventilate, call.",
        ),
        Asked(
            name="scale", label="Scale of the readings", kind="choice", choices=_SCALES, group=group,
            required="Say the scale: as measured or air-free.",
        ),
        Asked(name="minutes", label="Burned for", quantity=Quantity.MINUTES),
    ]  # fmt: skip
    for place, name in enumerate(names, start=1):
        fields += [
            Asked(
                name=f"co_ppm_{place}", label=name, quantity=Quantity.PPM,
                required="Write the carbon monoxide that was read.",
            ),
            Asked(
                name=f"oxygen_pct_{place}", label="Oxygen in the same sample", quantity=Quantity.PERCENT,
                when=("scale", "as measured"),
            ),
        ]  # fmt: skip
    fields.append(
        Asked(name="resolution_ppm", label="Steps the analyser shows", quantity=Quantity.PPM, instrument=True)
    )
    return ProofForm(
        code=code,
        fields=tuple(fields),
        judge_values=lambda values: _judge(values, names),
        measures=("carbon monoxide",),
    )


def _judge(values: Values, names: tuple[str, ...]) -> Judged:
    scale: Scale = "air-free" if values["scale"] == "air-free" else "as measured"
    room = max(values["room_before_ppm"], values["room_ppm"])
    parts = []
    for place, name in enumerate(names, start=1):
        try:
            answer = judge_co(_sample(values, place, scale, room))
        except Problem as problem:
            problem.field = _field(problem.field, place)
            raise
        says = answer.says if len(names) == 1 else tuple(_named(name, s) for s in answer.says)
        parts.append(Judged(result=answer.result, says=says, limits=answer.limits))
    return together(parts)


def _sample(values: Values, place: int, scale: Scale, room: float) -> Sample:
    step = values.get("resolution_ppm")
    return Sample(
        co_ppm=values[f"co_ppm_{place}"],
        scale=scale,
        oxygen_pct=values.get(f"oxygen_pct_{place}") if scale == "as measured" else None,
        room_ppm=room,
        resolution_ppm=1.0 if step is None else step,
    )


def _field(named: str, place: int) -> str:
    return f"{named}_{place}" if named in ("co_ppm", "oxygen_pct") else named


def _named(name: str, told: Sentence) -> Sentence:
    return sentence("{burner}: " + told.text, burner=name, **told.facts)
