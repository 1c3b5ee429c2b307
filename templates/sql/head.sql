{{~ for line in title_comment ~}}
-- {{ line }}
{{~ end ~}}
--
{{~ for line in identity_comment ~}}
-- {{ line }}
{{~ end ~}}
--
{{~ for line in caution_comment ~}}
-- {{ line }}
{{~ end ~}}
--
-- A query over a table named records, one row a child. Its columns are "case" (a code, never a name),
-- "age-months", "form" (full or short), one for each question of the case history that opens or closes tasks, named
-- history.question, one for each answer, named task.response, then the side and the trial where there are any, and one
-- for each observation, named observations.task.sign. All hold text, or what turns into it: a number in its unit, an
-- option's name, a code such as refused; yes or no for a question; for an observation seen or looked; nothing where
-- nothing was due.
-- The result has a row for each: of every value its state, both ends (NAME.low, NAME.high) and its band, every action,
-- the headline, what was not tried, and errors. Where there is an error, nothing else is said of the row. A value
-- without a step is a fraction: NAME.low over NAME.low-over.
{{~ for line in note_comment ~}}
-- {{ line }}
{{~ end ~}}
--
-- Scoring is done on whole numbers of 64 bits. Behind each line stand its limits, proved for every possible record; no
-- value on the way exceeds 2^53 - 1, and nothing is ever rounded but where a line says so.
