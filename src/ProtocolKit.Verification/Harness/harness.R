# Scores a table whenever its file is named on standard input; results and traces go into files of their own.
options(encoding = "UTF-8", warn = 1)
invisible(Sys.setlocale("LC_CTYPE", "C.UTF-8"))
source("scoring.R", encoding = "UTF-8")

as_text <- function(column) {
  text <- if (is.numeric(column)) {
    ifelse(abs(column) < 2^53 & column == floor(column), sprintf("%.0f", column), sprintf("%.17g", column))
  } else {
    as.character(column)
  }
  text <- gsub("\\", "\\\\", text, fixed = TRUE)
  text <- gsub("\t", "\\t", text, fixed = TRUE)
  text <- gsub("\n", "\\n", text, fixed = TRUE)
  text <- gsub("\r", "\\r", text, fixed = TRUE)
  text[is.na(column)] <- "\\N"
  text
}

write_rows <- function(columns, file) {
  lines <- if (length(columns[[1]]) == 0) character() else do.call(paste, c(unname(columns), sep = "\t"))
  writeLines(enc2utf8(lines), file, useBytes = TRUE)
}

run <- function(file) {
  text <- readLines(file, encoding = "UTF-8")
  titles <- strsplit(text[1], "\t", fixed = TRUE)[[1]]
  cells <- lapply(text[-1], function(row) strsplit(paste0(row, "\t|"), "\t", fixed = TRUE)[[1]])
  table <- lapply(seq_along(titles), function(i) vapply(cells, function(row) row[i], ""))
  names(table) <- titles
  records <- as.data.frame(table, optional = TRUE, stringsAsFactors = FALSE)
  reading <- read_records(records)
  lines <- score_fields(reading$fields)
  write_rows(lapply(score_records(records), as_text), "results.txt")
  write_rows(lapply(c(reading$fields, lapply(lines, as.numeric)), as_text), "traces.txt")
  "done"
}

input <- file("stdin", "r")
while (length(file_name <- readLines(input, 1)) > 0) {
  answer <- tryCatch(run(file_name), error = function(e) paste("Error:", conditionMessage(e)))
  cat(gsub("[\r\n]", " ", answer), "\n", sep = "")
  flush(stdout())
}
