# One batch of records a line on standard input, all that the emitted code said of them a line on standard output. Keys of records
# and names of outputs are the same in most records: both stand once, and lists beside them. Scoring is three steps in a row, and
# each is run once for a record that reads as it should; the first of a batch, and any other, goes through score as well.
import json
import sys

import scoring

with open("keys.json", encoding="utf-8") as file:
    KEYS = json.load(file)


def run(batch):
    names = {}
    answers = [run_one(trial, place == 0, names) for place, trial in enumerate(batch)]
    return [list(names), answers]


def run_one(trial, is_first, names):
    fields, age, form, answers, observations, history = trial
    record = {
        "age-months": age,
        "form": form,
        "answers": named("answers", answers),
        "observations": named("observations", observations),
        "history": named("history", history),
    }
    read, errors = scoring.read_record(record)
    lines = scoring.score_fields(fields)
    is_in_steps = not is_first and read == fields and not errors
    result = scoring.result_of(read, lines) if is_in_steps else scoring.score(record)
    outputs = list(outputs_of(result))
    place = names.setdefault(tuple(name for name, _ in outputs), len(names))
    return [texts(lines), texts(read), place, *(value for _, value in outputs)]


def named(kind, values):
    return {key: value for key, value in zip(KEYS[kind], values) if value is not None}


def texts(values):
    """Anything but a whole number shows as what it is."""
    return ",".join(str(value) if type(value) is int else repr(value) for value in values)


def outputs_of(result):
    for name, value in result["scores"].items():
        for part in ("state", "low", "high", "unit", "step"):
            yield f"score {name} {part}", "none" if value[part] is None else str(value[part])
    for name, band in result["bands"].items():
        yield f"band {name}", str(band)
    for name, decision in result["actions"].items():
        yield f"action {name}", str(decision)
    yield "headline", "none" if result["headline"] is None else str(result["headline"])
    for i, reason in enumerate(result["reasons"]):
        yield f"reason {i + 1}", str(reason)
    for i, error in enumerate(result["errors"]):
        yield f"error {i + 1}", str(error)


for line in sys.stdin:
    sys.stdout.write(json.dumps(run(json.loads(line)), separators=(",", ":")) + "\n")
    sys.stdout.flush()
