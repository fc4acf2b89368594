"""The journal's deeds in words people use: what somebody did to a record."""

from shopdesk.wording import say


def deed(action: str, record: str) -> str:
    """One journal row in words; what is not known to us keeps the journal's own name."""
    words = _by_record().get((action, record)) or _by_action().get(action)
    return words or action


def _by_record() -> dict[tuple[str, str], str]:
    return {
        ("book a range in", "gas_range"): say("wrote the range down"),
        ("book a range in", "job"): say("booked the range in"),
        ("book a range in", "paper"): say("printed the intake receipt"),
        ("record a walk-round", "walk_round"): say("began, changed or finished a walk-round"),
        ("record a walk-round", "observation"): say("answered a checkpoint"),
        ("write a quote", "job"): say("gave a promise"),
        ("keep stores", "photograph_use"): say("added a photograph"),
        ("tick a task", "gas_range"): say("moved the range"),
        ("clock hours", "time_entry"): say("clocked hours"),
        ("tick a task", "tag"): say("tagged what came off"),
        ("print a paper", "paper"): say("printed a paper"),
    }


def _by_action() -> dict[str, str]:
    return {
        "book a range in": say("wrote the range down"),
        "record a walk-round": say("walked round the range"),
        "record a verdict": say("recorded the verdict"),
        "write the work order": say("wrote the work order"),
        "write a quote": say("wrote a quote"),
        "record an agreement": say("recorded the agreement"),
        "tick a task": say("worked on a task"),
        "read cautions": say("read the cautions"),
        "tag what came off": say("tagged what came off"),
        "fill in a thermostat card": say("filled in a thermostat card"),
        "clock hours": say("clocked hours"),
        "report found more": say("found more"),
        "keep stores": say("noted stores"),
        "order parts": say("ordered parts"),
        "take goods in": say("took goods in"),
        "send outwork": say("sent outwork or took it back"),
        "record a proof": say("recorded a proof"),
        "keep instruments": say("changed an instrument"),
        "use the gas bench": say("reckoned at the gas bench"),
        "record a conversion": say("put a conversion on the order"),
        "release a range": say("released the range"),
        "issue an invoice": say("wrote an invoice"),
        "take a payment": say("took a payment"),
        "hand a range over": say("handed the range over"),
        "end a job": say("ended the job"),
        "print a paper": say("printed a paper"),
        "make an appointment": say("made an appointment"),
        "keep people and firms": say("wrote down a person or a firm"),
        "plan the bench": say("changed the plan"),
        "promise a day": say("changed a promise"),
        "keep hours and leave": say("changed hours or leave"),
        "change the set-up": say("changed the set-up"),
        "take a deed back": say("took a deed back"),
        "write an invoice off": say("wrote an invoice off"),
        "write a letter": say("wrote a letter"),
        "erase a customer": say("erased a customer"),
        "sign in": say("signed in, or set a passphrase"),
    }
