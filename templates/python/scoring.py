{{~ for line in title_comment ~}}
# {{ line }}
{{~ end ~}}
#
{{~ for line in identity_comment ~}}
# {{ line }}
{{~ end ~}}
#
{{~ for line in caution_comment ~}}
# {{ line }}
{{~ end ~}}
#
# Use, with this file beside yours as {{ file_name }}:
#   result = score({"age-months": 60, "form": "full", "answers": {"task.response": 2}, "observations": {}{{ if history.size > 0 }}, "history": { {{ history[0].text }}: "no"}{{ end }}})
# Keys of answers are task.response, then the side and the trial where there are any; a value is a number
# in its unit, an option's name, or a code such as "refused". Observations are "seen" or "looked".
# Nothing is raised: whatever is wrong with a record stands in result["errors"], and then nothing is scored.
#
# Scoring is done on whole numbers alone. Behind each line stand its limits, proved for every possible
# record; no value on the way exceeds 2^53 - 1, and nothing is ever rounded but where a line says so.
from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction
from numbers import Real
from typing import Any, Dict, Iterable, List, Mapping, Optional, Sequence, Tuple

ABOUT: Dict[str, Any] = {
    "name": {{ name }},
    "title": {{ title }},
    "edition": {{ edition }},
    "fingerprints": {
        "form": {{ form }},
        "administration": {{ administration }},
        "interpretation": {{ interpretation }},
    },
    "cautions": [
{{~ for caution in cautions ~}}
        {{ caution }},
{{~ end ~}}
    ],
}


def score(record: Any) -> Dict[str, Any]:
    """Scores a record: scores, bands, actions, headline, reasons, errors."""
    fields, errors = read_record(record)
    if errors:
        return {"scores": {}, "bands": {}, "actions": {}, "headline": None, "reasons": [], "errors": errors}
    return result_of(fields, score_fields(fields))


def score_fields(fields: Sequence[int]) -> List[int]:
    """Gives every line of the scoring program its value, from one whole number a field; true is 1."""
{{~ for field in fields ~}}
    {{ field.name }} = fields[{{ field.index }}]  # {{ field.comment }}
{{~ end ~}}

{{~ for line in lines ~}}
    {{ line.name }} = {{ line.code }}  # {{ line.comment }}
{{~ end ~}}

    return [
{{~ for line in lines ~}}
        {{ if line.is_condition }}int({{ line.name }}){{ else }}{{ line.name }}{{ end }},
{{~ end ~}}
    ]


def _pick(subject: int, *cases: int) -> int:
    """The value of the case that holds the subject; cases are from, to, value."""
    for i in range(0, len(cases), 3):
        if cases[i] <= subject <= cases[i + 1]:
            return cases[i + 2]
    return cases[-1]


_STATES = [{{ for state in states }}{{ if !for.first }}, {{ end }}{{ state.text }}{{ end }}]

_CODES = {
{{~ for code in codes ~}}
    {{ code.text }}: {{ code.number }},
{{~ end ~}}
}


class _Answer:
    """Its fields; the line that says whether its task is given, or -1; what it may be; and the earlier answer below which this trial is given."""

    def __init__(
        self,
        key: str,
        value: int,
        state: int,
        given: int,
        low: int,
        on_short_form: bool,
        after: int,
        below: int,
        bounds: Optional[Tuple[float, float]] = None,
        step: Tuple[int, int] = (1, 1),
        words: Sequence[Any] = (),
    ) -> None:
        self.key, self.value, self.state, self.low = key, value, state, low
        self.given = given
        self.on_short_form, self.after, self.below = on_short_form, after, below
        self.bounds, self.step, self.words = bounds, step, words


_ANSWERS: List[_Answer] = [
{{~ for a in answers ~}}
    _Answer({{ a.key }}, {{ a.value_field }}, {{ a.state_field }}, {{ a.given }}, {{ a.low }}, {{ a.on_short_form }}, {{ a.after }}, {{ a.below }}, {{ if a.is_number }}bounds=({{ a.from }}, {{ a.to }}), step=({{ a.step_above }}, {{ a.step_below }}){{ else if a.options.size > 0 }}words=[{{ for o in a.options }}{{ if !for.first }}, {{ end }}{{ o }}{{ end }}]{{ else }}words=[{{ for l in a.levels }}{{ if !for.first }}, {{ end }}{{ l }}{{ end }}]{{ end }}),
{{~ end ~}}
]

_ANSWER_KEYS = {answer.key for answer in _ANSWERS}

_OBSERVATIONS: Dict[str, int] = {
{{~ for o in observations ~}}
    {{ o.text }}: {{ o.number }},
{{~ end ~}}
}

{{~ if history.size > 0 ~}}
# Questions of the case history: the field, and whether a record must answer it.
_HISTORY: Dict[str, Tuple[int, bool]] = {
{{~ for h in history ~}}
    {{ h.text }}: ({{ h.number }}, {{ h.is_needed }}),
{{~ end ~}}
}

{{~ end ~}}
{{~ if help_keys.size > 0 ~}}
# Which help was given: left out, there was none.
_HELP = {
{{~ for key in help_keys ~}}
    {{ key }},
{{~ end ~}}
}

{{~ end ~}}
# The kept trial of each answer: its key and the line with its state.
_KEPT: Dict[str, int] = {
{{~ for k in kept ~}}
    {{ k.text }}: {{ k.number }},
{{~ end ~}}
}

# Name; lines with state, low and high; lines that divide them, or -1; a value is low / low_by * scale; unit; step; reads.
_OUTCOMES: List[Tuple[str, int, int, int, int, int, int, int, str, Optional[float], List[str]]] = [
{{~ for o in outcomes ~}}
    ({{ o.name }}, {{ o.state }}, {{ o.low }}, {{ o.high }}, {{ o.low_by }}, {{ o.high_by }}, {{ o.scale_above }}, {{ o.scale_below }}, {{ o.unit }}, {{ o.step }}, [{{ for r in o.reads }}{{ if !for.first }}, {{ end }}{{ r }}{{ end }}]),
{{~ end ~}}
]

# Of, on the short form, line, then bands from the worst to the best; after them undecided, not applicable, blocked, no band.
_BANDS: List[Tuple[str, bool, int, List[str]]] = [
{{~ for b in bands ~}}
    ({{ b.name }}, {{ b.on_short_form }}, {{ b.line }}, [{{ for n in b.bands }}{{ n }}, {{ end }}"undecided", "not applicable", "blocked", "no band"]),
{{~ end ~}}
]

# From the most severe to the least; the lines that say it surely applies, and that it surely does not.
_ACTIONS: List[Tuple[str, int, int]] = [
{{~ for a in actions ~}}
    ({{ a.name }}, {{ a.applies }}, {{ a.applies_not }}),
{{~ end ~}}
]


def read_record(record: Any) -> Tuple[List[int], List[str]]:
    """Reads a record into one whole number a field; what is wrong with it is listed beside them."""
    errors: List[str] = []
    fields = [0] * {{ field_count }}
    given = record if isinstance(record, Mapping) else {}
    if given is not record:
        errors.append("A record is an object with age-months, form, answers and observations.")
    _read_age(given.get("age-months"), fields, errors)
    _read_form(given.get("form"), fields, errors)
{{~ if history.size > 0 ~}}
    _read_history(_part_of(given, "history", errors), fields, errors)
{{~ end ~}}
    _read_observations(_part_of(given, "observations", errors), fields, errors)
    _read_answers(_part_of(given, "answers", errors), fields, errors)
    return fields, errors


def _read_age(age: Any, fields: List[int], errors: List[str]) -> None:
    number = _number(age)
    if number is not None and number == int(number) and {{ age_low }} <= number <= {{ age_high }}:
        fields[{{ age_field }}] = int(number)
    else:
        errors.append("age-months: give the age in completed months, a whole number from {{ age_low }} to {{ age_high }}.")


def _read_form(form: Any, fields: List[int], errors: List[str]) -> None:
{{~ if has_short_form ~}}
    if isinstance(form, str) and form in ("full", "short"):
        fields[{{ form_field }}] = 1 if form == "short" else 0
    else:
        errors.append('form: say "full" or "short".')
{{~ else ~}}
    if not isinstance(form, str) or form != "full":
        errors.append('form: this protocol has only one form; say "full".')
{{~ end ~}}


def _read_answers(given: Mapping[Any, Any], fields: List[int], errors: List[str]) -> None:
    found: Dict[str, bool] = {}
    for answer in _ANSWERS:
        value = _value_of(given, answer.key)
{{~ if help_keys.size > 0 ~}}
        if value is None and answer.key in _HELP and not _is_off_form(answer, fields):
            value = {{ no_help }}
{{~ end ~}}
        fields[answer.value] = answer.low
        fields[answer.state] = 1
        if value is not None:
            problem = _read_answer(answer, value, fields)
            found[answer.key] = problem is None
            if problem is not None:
                errors.append(f"{answer.key}: {problem}")
{{~ if has_giving ~}}
    missing: List[_Answer] = []
{{~ end ~}}
    needs: List[str] = []
    for answer in _ANSWERS:
        needs.append(_need_of(answer, found, fields))
    for answer, need in zip(_ANSWERS, needs):
        if found.get(answer.key) and need == "needless":
            fields[answer.state] = 1
            fields[answer.value] = answer.low
        elif answer.key not in found and need == "due" and not _is_off_form(answer, fields):
{{~ if has_giving ~}}
            missing.append(answer)
    # What isn't given may be missing; where an answer is wrong, nobody can say what should be there.
    is_wrong = not all(found.values())
    lines = [] if not missing or is_wrong else score_fields(fields)
    for answer in missing:
        if answer.given < 0 or (not is_wrong and lines[answer.given] == 1):
            errors.append(_no_answer(answer))
{{~ else ~}}
            errors.append(_no_answer(answer))
{{~ end ~}}
    _report_unknown(given, _ANSWER_KEYS, "answer", errors)


def _no_answer(answer: _Answer) -> str:
    return f"{answer.key}: there is no answer. Give one, or say why not: {', '.join(_CODES)}."


{{~ if history.size > 0 ~}}
def _read_history(given: Mapping[Any, Any], fields: List[int], errors: List[str]) -> None:
    for key, (field, is_needed) in _HISTORY.items():
        value = _value_of(given, key)
        is_word = isinstance(value, str)
        if is_needed if value is None else not (is_word and value in ("yes", "no")):
            errors.append(f'history, {key}: say "yes" or "no"; it decides which tasks may be given.')
        fields[field] = 1 if is_word and value == "yes" else 0


{{~ end ~}}
def _is_off_form(answer: _Answer, fields: Sequence[int]) -> bool:
    return fields[{{ form_field }}] == 1 and not answer.on_short_form


def _need_of(answer: _Answer, found: Mapping[str, bool], fields: Sequence[int]) -> str:
    """How it stands with a trial, from the one before: due, may be given (that one was untried), needless, unclear."""
    if answer.after < 0:
        return "due"
    before = _ANSWERS[answer.after]
    need = _need_of(before, found, fields)
    if need == "needless":
        return need
    if found.get(before.key):
        if fields[before.state] >= 2:
            return "may be given"
        return "due" if fields[before.value] < answer.below else "needless"
    may_be_absent = need == "may be given" or _is_off_form(before, fields)
    return "may be given" if before.key not in found and may_be_absent else "unclear"


def _read_answer(answer: _Answer, value: Any, fields: List[int]) -> Optional[str]:
    """Reads one answer into its fields: the problem with it, or None."""
    state, steps, problem = 0, answer.low, None
    if isinstance(value, str) and value in _CODES:
        state = _CODES[value]
    else:
        steps, problem = _read_value(answer, value)
    if problem is not None:
        return problem
    # A short record's other tasks may be left out or called not planned.
    is_off = _is_off_form(answer, fields)
    if is_off and state != 2:
        return "this task is not part of the short form; leave it out."
    fields[answer.state] = 1 if is_off else state
    fields[answer.value] = steps
    return None


def _read_value(answer: _Answer, value: Any) -> Tuple[int, Optional[str]]:
    if answer.bounds is not None:
        return _read_number(answer.bounds, answer.step, value)
    is_word = isinstance(answer.words[0], str)
    found = value if is_word and isinstance(value, str) else None if is_word else _number(value)
    if found is not None and found in answer.words:
        return answer.words.index(found), None
    return 0, f"{_shown(value)} is not one of {', '.join(_plain(word) for word in answer.words)}."


def _read_number(bounds: Tuple[float, float], step: Tuple[int, int], value: Any) -> Tuple[int, Optional[str]]:
    number = _number(value)
    if number is None or not bounds[0] <= number <= bounds[1]:
        return 0, f"{_shown(value)} is not a number from {_plain(bounds[0])} to {_plain(bounds[1])}."
    steps = round(number * step[1] / step[0])
    if steps * step[0] / step[1] == number:
        return steps, None
    return 0, f"{_shown(value)} is not a whole number of steps of {_plain(step[0] / step[1])}."


def _number(value: Any) -> Optional[float]:
    """A number as it is, one of a decimal or fraction as the float that stands for it; None for all else."""
    if isinstance(value, bool):
        return None
    if isinstance(value, (Decimal, Fraction)):
        if isinstance(value, Decimal) and not value.is_finite():
            return None
        try:
            near = float(value)
        except OverflowError:
            return None
        return near if math.isfinite(near) and Fraction(repr(near)) == Fraction(value) else None
    if isinstance(value, int):
        return value
    return float(value) if isinstance(value, Real) and math.isfinite(value) else None


def _read_observations(given: Mapping[Any, Any], fields: List[int], errors: List[str]) -> None:
    for key, field in _OBSERVATIONS.items():
        value = _value_of(given, key)
        is_word = isinstance(value, str)
        if value is not None and not (is_word and value in ("seen", "looked")):
            errors.append(f'{key}: {_shown(value)} is neither "seen" nor "looked".')
        fields[field] = 0 if not is_word else 2 if value == "seen" else 1 if value == "looked" else 0
    _report_unknown(given, _OBSERVATIONS, "observation", errors)


def _report_unknown(given: Mapping[Any, Any], known: Iterable[str], kind: str, errors: List[str]) -> None:
    for key in given:
        if key not in known:
            errors.append(f"There is no {kind} named {_shown(key)} in this protocol.")


def _part_of(record: Mapping[Any, Any], part: str, errors: List[str]) -> Mapping[Any, Any]:
    value = _value_of(record, part)
    if value is not None and not isinstance(value, Mapping):
        errors.append(f"{part}: give an object with a key for each.")
    return value if isinstance(value, Mapping) else {}


def _value_of(given: Mapping[Any, Any], key: str) -> Any:
    """A blank counts as not given."""
    value = given.get(key)
    return None if isinstance(value, str) and not value.strip() else value


def _shown(value: Any) -> str:
    if isinstance(value, str):
        return f'"{value[:60]}"'
    number = _number(value)
    return "this" if number is None else _plain(number)


def _plain(value: Any) -> str:
    """A whole number without its point."""
    if isinstance(value, str):
        return value
    return str(int(value)) if value == int(value) and abs(value) < 2**53 else str(value)


def result_of(fields: Sequence[int], lines: Sequence[int]) -> Dict[str, Any]:
    """What a record's fields and lines come to, in words and in units."""
    is_short = fields[{{ form_field }}] == 1
    headline = lines[{{ headline_line }}] if {{ headline_line }} >= 0 else -1
    return {
        "scores": {outcome[0]: _score_of(outcome, lines) for outcome in _OUTCOMES},
        "bands": {of: names[lines[line]] for of, on_short, line, names in _BANDS if on_short == is_short},
        "actions": {name: _decision_on(lines[applies], lines[not_]) for name, applies, not_ in _ACTIONS},
        "headline": _ACTIONS[headline][0] if headline >= 0 else None,
        "reasons": [
            f"{outcome[0]}: {key} {_STATES[lines[_KEPT[key]]]}"
            for outcome in _OUTCOMES
            for key in outcome[-1]
            if lines[_KEPT[key]] >= 2
        ],
        "errors": [],
    }


def _score_of(outcome: Tuple[Any, ...], lines: Sequence[int]) -> Dict[str, Any]:
    _, state, low, high, low_by, high_by, above, below, unit, step, _ = outcome
    is_known = lines[state] == 0
    return {
        "state": _STATES[lines[state]],
        "low": _in_unit(lines, low, low_by, above, below) if is_known else None,
        "high": _in_unit(lines, high, high_by, above, below) if is_known else None,
        "unit": unit,
        "step": step,
    }


def _in_unit(lines: Sequence[int], line: int, by: int, above: int, below: int) -> float:
    """The float nearest to the exact fraction: Python rounds the quotient of two whole numbers once."""
    return lines[line] * above / (below * (1 if by < 0 else lines[by]))


def _decision_on(applies: int, applies_not: int) -> str:
    if applies == 1:
        return "applies"
    return "applies not" if applies_not == 1 else "undecided"
