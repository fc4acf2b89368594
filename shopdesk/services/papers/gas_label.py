"""The gas label of a range, gathered for printing. It is put on the range; nothing is kept of it."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents import gas_label as paper
from shopdesk.documents.facts import GasLabelFacts
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.rights import Action
from shopdesk.services import conversions, gas_tables
from shopdesk.services.papers.heads import shop_head
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.gas import GasConversion
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say
from shopdesk.wording.bench_measures import shown


def gas_label(seat: Seat, job_id: int) -> bytes:
    """PDF of the label: the gas, the manifold pressure, a conversion with its spuds and fitter, the day.

    A Problem where nobody wrote down what the range is set to.
    """
    with seat.look(Action.PRINT) as session:
        job = session.get_one(Job, job_id)
        row = job.range
        converted = conversions.newest(session, job_id)
        known = gas_tables.gases()
        code = converted.to_gas if converted else gas_tables.gas_code(row.set_to_gas)
        gas = say(known[code].name) if code in known else row.set_to_gas.strip()
        if not gas:
            raise Problem(
                "What gas {number} is set to is not written down. Write it in its particulars first.",
                number=row.number,
            )
        name = " ".join(word for word in (row.maker, row.model) if word)
        head = shop_head(seat, session)
        return paper.render(
            GasLabelFacts(
                shop=head,
                range=say("Range {number}, {name}", number=row.number, name=name) if name else row.number,
                gas=gas,
                says=_says(seat, session, job, converted),
                connecting=_connecting(gas, house_known=bool(row.house_gas.strip())),
                by=say("{shop}, {day}", shop=head.name, day=seat.region.day(seat.today)),
            )
        )


def _says(seat: Seat, session: Session, job: Job, converted: GasConversion | None) -> tuple[str, ...]:
    says = []
    read = session.scalar(
        sa.select(Proof.figures)
        .where(Proof.job_id == job.id, Proof.kind == "gas-identity")
        .order_by(Proof.id.desc())
        .limit(1)
    )
    manifold = (read or {}).get("manifold_inwc")
    if isinstance(manifold, int | float):
        pressure = shown(float(manifold), Quantity.PRESSURE, seat.region)
        says.append(say("Manifold {pressure}, one large burner on.", pressure=pressure))
    if converted is not None:
        spuds = ", ".join(f"{each['burner']} {each['drill']}" for each in converted.burners)
        gases = conversions.gases_in_words(converted.from_gas, converted.to_gas)
        says.append(say("Converted, {gases}, by {name}.", gases=gases, name=converted.decided_by))
        says.append(say("Spuds: {spuds}.", spuds=spuds))
    return tuple(says)


def _connecting(gas: str, *, house_known: bool) -> tuple[str, ...]:
    connects = say(
        "A licensed fitter connects it under the local code and proves it where it stands, before it is lit."
    )
    if house_known:
        return (connects,)
    return (
        say("Its house was not known: the fitter first checks there that the supply is {gas}.", gas=gas),
        connects,
    )
