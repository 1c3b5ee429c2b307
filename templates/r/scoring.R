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
# Use:
#   source("{{ file_name }}")
#   records <- read.csv("table.csv", colClasses = "character", check.names = FALSE)
#   results <- score_records(records)
# A data frame in, a data frame out, one row a child. Columns of records are "case" (a code, never a name),
# "age-months", "form" (full or short), one for each question of the case history that opens or closes tasks, named
# history.question, one for each answer, named task.response, then the side and the trial where there are any, and one
# for each observation, named observations.task.sign: a number in its unit, an option's name, or a code such as refused;
# yes or no for a question; for an observation seen or looked; nothing where nothing was due. Results give of every value its state, both ends (NAME.low, NAME.high)
# and its band, every action, the headline, what was not tried, and errors. Where there is an error, nothing else is
# said of the row. A value without a step is a fraction: NAME.low over NAME.low-over.
#
# Scoring is done on whole numbers, which R's doubles hold exactly up to 2^53. Behind each line stand its limits, proved
# for every possible record; no value on the way exceeds 2^53 - 1, and nothing is ever rounded but where a line says so.

about <- list(
  name = {{ name }},
  title = {{ title }},
  edition = {{ edition }},
  fingerprints = c(
    form = {{ form }},
    administration = {{ administration }},
    interpretation = {{ interpretation }}
  ),
  cautions = c(
{{~ for caution in cautions ~}}
    {{ caution }}{{ if !for.last }},{{ end }}
{{~ end ~}}
  )
)

# Scores a data frame of records.
score_records <- function(records) {
  reading <- read_records(records)
  lines <- score_fields(reading$fields)
  describe(records, miss_answers(reading, lines), lines)
}

# Gives every line of the scoring program its value for each child, from a list with a column of whole numbers for each
# field, in order. A condition is TRUE or FALSE.
score_fields <- function(fields) {
{{~ for field in fields ~}}
  {{ field.name }} <- fields[[{{ field.index }} + 1]] # {{ field.comment }}
{{~ end ~}}

{{~ for line in lines ~}}
  {{ line.name }} <- {{ line.code }} # {{ line.comment }}
{{~ end ~}}

  lines <- list(
{{~ for line in lines ~}}
    {{ line.name }}{{ if !for.last }},{{ end }}
{{~ end ~}}
  )
  lapply(lines, rep_len, length.out = length(fields[[1]]))
}

# For each child the value beside the first condition that holds, or the last value.
first_of <- function(...) {
  given <- list(...)
  n <- max(lengths(given))
  result <- rep_len(given[[length(given)]], n)
  for (i in rev(seq_len((length(given) - 1) / 2))) {
    holds <- rep_len(given[[2 * i - 1]], n)
    result[holds] <- rep_len(given[[2 * i]], n)[holds]
  }
  result
}

# For each child the value of the case that holds the subject; cases are from, to, value.
pick <- function(subject, ...) {
  cases <- matrix(c(...), nrow = 3)
  cases[3, findInterval(subject, cases[1, ])]
}

state_words <- c({{ for state in states }}{{ if !for.first }}, {{ end }}{{ state.text }}{{ end }})

codes <- c(
{{~ for code in codes ~}}
  {{ code.text }}{{ if !for.last }},{{ end }}
{{~ end ~}}
)
code_numbers <- c({{ for code in codes }}{{ if !for.first }}, {{ end }}{{ code.number }}{{ end }})

# value, state: fields. after, below: the trial is given where that earlier answer is below so many steps. given: the line
# that says whether the task is given, or 0 where it always is. decimals: how many digits may stand behind the point; from, to, step and levels are given with the point shifted by so many.
answers <- list(
{{~ for a in answers ~}}
  list(key = {{ a.key }}, value = {{ a.value_field }} + 1, state = {{ a.state_field }} + 1, low = {{ a.low }}, on_short = {{ a.on_short_form }}, after = {{ a.after }} + 1, given = {{ a.given }} + 1, below = {{ a.below }}, may_be = {{ a.expected }}{{ if a.options.size > 0 }}, options = c({{ for o in a.options }}{{ if !for.first }}, {{ end }}{{ o }}{{ end }}){{ else }}, pattern = {{ a.pattern }}, decimals = {{ a.decimals }}{{ if a.is_number }}, from = {{ a.shifted_from }}, to = {{ a.shifted_to }}, step = {{ a.shifted_step }}{{ else }}, levels = c({{ for l in a.shifted_levels }}{{ if !for.first }}, {{ end }}{{ l }}{{ end }}){{ end }}{{ end }}){{ if !for.last }},{{ end }}
{{~ end ~}}
)

# Questions of the case history: the field, and whether a record must answer it.
history <- list(
{{~ for h in history ~}}
  list(key = {{ h.text }}, field = {{ h.number }} + 1, is_needed = {{ h.is_needed }}, wrong = {{ h.wrong }}){{ if !for.last }},{{ end }}
{{~ end ~}}
)

observations <- list(
{{~ for o in observations ~}}
  list(key = {{ o.text }}, field = {{ o.number }} + 1){{ if !for.last }},{{ end }}
{{~ end ~}}
)

{{~ if help_keys.size > 0 ~}}
# Which help was given: left out, there was none.
help_keys <- c(
{{~ for key in help_keys ~}}
  {{ key }}{{ if !for.last }},{{ end }}
{{~ end ~}}
)

{{~ end ~}}
# The kept trial of each answer: its key and the line with its state.
kept <- list(
{{~ for k in kept ~}}
  list(key = {{ k.text }}, line = {{ k.number }} + 1){{ if !for.last }},{{ end }}
{{~ end ~}}
)

# state, low, high: lines. low_by, high_by: lines that divide them, or 0. A value is low / low_by * above / below.
outcomes <- list(
{{~ for o in outcomes ~}}
  list(name = {{ o.name }}, state = {{ o.state }} + 1, low = {{ o.low }} + 1, high = {{ o.high }} + 1, low_by = {{ o.low_by }} + 1, high_by = {{ o.high_by }} + 1, above = {{ o.scale_above }}, below = {{ o.scale_below }}, is_fraction = {{ o.is_fraction }}, unit = {{ o.unit }}, reads = c({{ for r in o.reads }}{{ if !for.first }}, {{ end }}{{ r }}{{ end }})){{ if !for.last }},{{ end }}
{{~ end ~}}
)

# Bands from the worst to the best; after them undecided, not applicable, blocked, no band.
bands <- list(
{{~ for b in bands ~}}
  list(of = {{ b.name }}, on_short = {{ b.on_short_form }}, line = {{ b.line }} + 1, names = c({{ for n in b.bands }}{{ n }}, {{ end }}"undecided", "not applicable", "blocked", "no band")){{ if !for.last }},{{ end }}
{{~ end ~}}
)

# From the most severe to the least; the lines that say it surely applies, and that it surely does not.
actions <- list(
{{~ for a in actions ~}}
  list(name = {{ a.name }}, applies = {{ a.applies }} + 1, applies_not = {{ a.applies_not }} + 1){{ if !for.last }},{{ end }}
{{~ end ~}}
)

# Reads a data frame into a list with a column of whole numbers for each field; what is wrong with a row is said in errors.
read_records <- function(records) {
  n <- nrow(records)
  reading <- list(fields = rep(list(rep_len(0, n)), {{ field_count }}), errors = rep_len("", n))
  reading <- read_age(records, reading)
  reading <- read_form(records, reading)
  reading <- read_history(records, reading)
  reading <- read_observations(records, reading)
  read_answers(records, reading)
}

# A column as text without blanks around it; nothing becomes the empty text.
text_of <- function(records, key) {
  if (!(key %in% names(records))) {
    return(rep_len("", nrow(records)))
  }
  text <- enc2utf8(as.character(records[[key]]))
  text[is.na(text)] <- ""
  gsub("^[ \t\r\n]+|[ \t\r\n]+$", "", text)
}

complain <- function(reading, where, ...) {
  if (any(where)) {
    reading$errors[where] <- paste0(reading$errors[where], rep_len(paste0(...), length(where))[where])
  }
  reading
}

# The whole number a text of digits spells once its point is shifted; not a number where it spells none.
shifted <- function(text, pattern, decimals) {
  fits <- grepl(pattern, text)
  whole <- sub("[.].*$", "", text)
  digits <- ifelse(grepl(".", text, fixed = TRUE), sub("^[^.]*[.]", "", text), "")
  digits <- substr(paste0(digits, strrep("0", decimals)), 1, decimals)
  number <- rep_len(NA_real_, length(text))
  number[fits] <- as.numeric(paste0(whole, digits)[fits])
  number
}

read_age <- function(records, reading) {
  age <- shifted(text_of(records, "age-months"), "^[0-9]{1,4}([.]0+)?$", 0)
  fits <- !is.na(age) & age >= {{ age_low }} & age <= {{ age_high }}
  reading$fields[[{{ age_field }} + 1]][fits] <- age[fits]
  complain(reading, !fits, "age-months: give the age in completed months, a whole number from {{ age_low }} to {{ age_high }}. ")
}

read_form <- function(records, reading) {
  form <- text_of(records, "form")
{{~ if has_short_form ~}}
  reading$fields[[{{ form_field }} + 1]] <- ifelse(form == "short", 1, 0)
  complain(reading, !(form %in% c("full", "short")), "form: say \"full\" or \"short\". ")
{{~ else ~}}
  complain(reading, form != "full", "form: this protocol has only one form; say \"full\". ")
{{~ end ~}}
}

read_answers <- function(records, reading) {
  is_short <- reading$fields[[{{ form_field }} + 1]] == 1
  read <- vector("list", length(answers))
  for (i in seq_along(answers)) {
    read[[i]] <- read_answer(records, answers[[i]], is_short)
    read[[i]]$need <- need_of(answers[[i]], read, is_short)
  }
  reading$missing <- vector("list", length(answers))
  reading$is_wrong <- rep_len(FALSE, length(is_short))
  for (i in seq_along(answers)) {
    answer <- answers[[i]]
    one <- read[[i]]
    reading$missing[[i]] <- one$given == 0 & one$need == 0 & !one$off
    reading$is_wrong <- reading$is_wrong | one$given == 2
    dropped <- one$given == 1 & one$need == 2
    reading$fields[[answer$state]] <- ifelse(dropped, 1, one$state)
    reading$fields[[answer$value]] <- ifelse(dropped, answer$low, one$value)
    reading <- complain(reading, one$given == 2 & one$off, answer$key, ": this task is not part of the short form; leave it out. ")
    reading <- complain(reading, one$given == 2 & !one$off, answer$key, ": \"", substr(one$text, 1, 60), "\" is not ", answer$may_be, ". ")
  }
  reading
}

# Tells of answers that are missing. What isn't given may be; where an answer is wrong, nobody can say what should be there.
miss_answers <- function(reading, lines) {
  for (i in seq_along(answers)) {
    answer <- answers[[i]]
    missing <- reading$missing[[i]]
    if (answer$given > 0) {
      missing <- missing & !reading$is_wrong & lines[[answer$given]]
    }
    reading <- complain(reading, missing, answer$key, ": there is no answer. Give one, or say why not: ", paste(codes, collapse = ", "), ". ")
  }
  reading
}

read_history <- function(records, reading) {
  for (one in history) {
    text <- text_of(records, paste0("history.", one$key))
    reading$fields[[one$field]] <- ifelse(text == "yes", 1, 0)
    reading <- complain(reading, !(text %in% c("yes", "no", if (!one$is_needed) "")), one$wrong, " ")
  }
  reading
}

# given: 0 not, 1 right, 2 wrong.
read_answer <- function(records, answer, is_short) {
  text <- text_of(records, answer$key)
  off <- is_short & !answer$on_short
{{~ if help_keys.size > 0 ~}}
  if (answer$key %in% help_keys) {
    text[text == "" & !off] <- {{ no_help }}
  }
{{~ end ~}}
  code <- code_numbers[match(text, codes)]
  code[is.na(code)] <- 0
  steps <- steps_of(answer, text)
  given <- ifelse(text == "", 0, ifelse(off & code != 2, 2, ifelse(code > 0 | !is.na(steps), 1, 2)))
  list(
    text = text,
    off = off,
    given = given,
    state = ifelse(given == 1 & !off, code, 1),
    value = ifelse(given == 1 & code == 0, steps, answer$low)
  )
}

# Whole steps, or the index of a level or option.
steps_of <- function(answer, text) {
  if (!is.null(answer$options)) {
    return(match(text, answer$options) - 1)
  }
  number <- shifted(text, answer$pattern, answer$decimals)
  if (!is.null(answer$levels)) {
    return(match(number, answer$levels) - 1)
  }
  fits <- !is.na(number) & number >= answer$from & number <= answer$to
  steps <- rep_len(NA_real_, length(text))
  steps[fits] <- floor(number[fits] / answer$step)
  steps[fits & steps * answer$step != number] <- NA_real_
  steps
}

# How it stands with a trial, from the one before: 0 due, 1 may be given (that one was untried), 2 needless, 3 unclear.
need_of <- function(answer, read, is_short) {
  if (answer$after == 0) {
    return(rep_len(0, length(is_short)))
  }
  before <- read[[answer$after]]
  from_answer <- ifelse(before$state >= 2, 1, ifelse(before$value < answer$below, 0, 2))
  open <- before$given == 0 & (before$need == 1 | before$off)
  ifelse(before$need == 2, 2, ifelse(before$given == 1, from_answer, ifelse(open, 1, 3)))
}

read_observations <- function(records, reading) {
  for (one in observations) {
    text <- text_of(records, paste0("observations.", one$key))
    reading$fields[[one$field]] <- ifelse(text == "seen", 2, ifelse(text == "looked", 1, 0))
    reading <- complain(reading, !(text %in% c("", "seen", "looked")), one$key, ": \"", substr(text, 1, 60), "\" is neither \"seen\" nor \"looked\". ")
  }
  reading
}

# What the lines come to, in words and in units.
describe <- function(records, reading, lines) {
  is_right <- reading$errors == ""
  is_short <- reading$fields[[{{ form_field }} + 1]] == 1
  only_right <- function(column) {
    column <- rep_len(column, length(is_right))
    column[!is_right] <- NA
    column
  }
  results <- list(text_of(records, "case"), only_right(reading$fields[[{{ age_field }} + 1]]), only_right(ifelse(is_short, "short", "full")))
  titles <- c("case", "age-months", "form")
  add <- function(title, column) {
    results[[length(results) + 1]] <<- only_right(column)
    titles[length(titles) + 1] <<- title
  }
  reasons <- rep_len("", length(is_right))
  for (outcome in outcomes) {
    state <- lines[[outcome$state]]
    add(paste0(outcome$name, ".state"), state_words[state + 1])
    add_end <- function(end, line, by) {
      number <- lines[[line]] * outcome$above
      over <- outcome$below * (if (by == 0) 1 else lines[[by]])
      number[state != 0] <- NA
      if (outcome$is_fraction) {
        add(paste0(outcome$name, end), number)
        add(paste0(outcome$name, end, "-over"), ifelse(state == 0, over, NA))
      } else {
        add(paste0(outcome$name, end), number / over)
      }
    }
    add_end(".low", outcome$low, outcome$low_by)
    add_end(".high", outcome$high, outcome$high_by)
    add_band(outcome, lines, is_short, add)
    reasons <- paste0(reasons, reasons_of(outcome, lines))
  }
  for (action in actions) {
    add(action$name, ifelse(lines[[action$applies]], "applies", ifelse(lines[[action$applies_not]], "applies not", "undecided")))
  }
  add("headline", headline_of(lines, length(is_right)))
  add("reasons", reasons)
  results[[length(results) + 1]] <- reading$errors
  names(results) <- make.unique(c(titles, "errors"))
  as.data.frame(results, optional = TRUE, stringsAsFactors = FALSE)
}

add_band <- function(outcome, lines, is_short, add) {
  mine <- Filter(function(band) band$of == outcome$name, bands)
  if (length(mine) == 0) {
    return(invisible())
  }
  word <- rep_len(NA_character_, length(is_short))
  for (band in mine) {
    here <- is_short == band$on_short
    word[here] <- band$names[lines[[band$line]] + 1][here]
  }
  add(paste0(outcome$name, ".band"), word)
}

# The answers a score rests on that were not tried, with the reason of each.
reasons_of <- function(outcome, lines) {
  text <- rep_len("", length(lines[[outcome$state]]))
  for (one in kept) {
    if (one$key %in% outcome$reads) {
      state <- lines[[one$line]]
      word <- paste0(outcome$name, ": ", one$key, " ", state_words[state + 1], "; ")
      text <- paste0(text, ifelse(state >= 2, word, ""))
    }
  }
  text
}

headline_of <- function(lines, n) {
{{~ if has_headline ~}}
  first <- lines[[{{ headline_line }} + 1]]
  names <- vapply(actions, function(action) action$name, "")
  names[ifelse(first < 0, NA, first + 1)]
{{~ else ~}}
  rep_len(NA_character_, n)
{{~ end ~}}
}
