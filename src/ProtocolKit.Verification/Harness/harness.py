# One batch of records a line on standard input, all that the emitted code said of them a line on standard output.
import json
import sys

import scoring


def run_one(trial):
    record = trial["record"]
    record["age-months"] = record.pop("ageMonths")
    return {
        "lines": [plain(value) for value in scoring.score_fields(trial["fields"])],
        "read": [plain(value) for value in scoring.read_record(record)[0]],
        "outputs": list(outputs_of(scoring.score(record))),
    }


def plain(value):
    """Anything but a whole number would show as what it is."""
    return value if type(value) is int else repr(value)


def outputs_of(result):
    for name, value in result["scores"].items():
        for part in ("state", "low", "high", "unit", "step"):
            yield [f"score {name} {part}", "none" if value[part] is None else str(value[part])]
    for name, band in result["bands"].items():
        yield [f"band {name}", str(band)]
    for name, decision in result["actions"].items():
        yield [f"action {name}", str(decision)]
    yield ["headline", "none" if result["headline"] is None else str(result["headline"])]
    for i, reason in enumerate(result["reasons"]):
        yield [f"reason {i + 1}", str(reason)]
    for i, error in enumerate(result["errors"]):
        yield [f"error {i + 1}", str(error)]


for line in sys.stdin:
    sys.stdout.write(json.dumps([run_one(trial) for trial in json.loads(line)], separators=(",", ":")) + "\n")
    sys.stdout.flush()
