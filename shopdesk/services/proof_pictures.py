"""Pictures taken while a proof was made, hung on it and on its range."""

from shopdesk.domain.problem import NotFound
from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job


def photograph_proof(seat: Seat, proof_id: int, data: bytes, name: str, *, caption: str = "") -> int:
    """Keeps a picture as it was brought (JPEG, PNG, HEIC) with a proof; returns the picture's key."""
    with seat.look() as session:
        row = session.get(Proof, proof_id)
        if row is None:
            raise NotFound("There is no proof {key} in this shop.", key=proof_id)
        range_id = session.get_one(Job, row.job_id).range_id
    return intake.attach_photograph(seat, range_id, take_in(data, name), proof_id=proof_id, caption=caption)
