# The other side of the benchmark: prints "name seconds" for each method whose package is here.
folder <- commandArgs(TRUE)[1]
read <- function(name) as.matrix(read.table(file.path(folder, name)))
median_time <- function(runs, f) { f(); median(replicate(runs, sum(system.time(f(), gcFirst = FALSE)[c("user.self", "sys.self")]))) }
say <- function(name, seconds) cat(name, " ", format(seconds, digits = 6), "\n", sep = "")
has <- function(p) requireNamespace(p, quietly = TRUE)

if (has("pROC")) suppressMessages({
  cases <- as.vector(read("cases")); controls <- as.vector(read("controls"))
  say("roc-delong", median_time(5, function() pROC::ci.auc(pROC::roc(controls = controls, cases = cases, direction = "<", quiet = TRUE), method = "delong")))
  cases <- as.vector(read("small-cases")); controls <- as.vector(read("small-controls"))
  curve <- pROC::roc(controls = controls, cases = cases, direction = "<", quiet = TRUE)
  # Area and Youden's best cut, both bootstrapped; measured on 100 resamples of each, times 100.
  say("bootstrap", 100 * median_time(1, function() {
    pROC::ci.auc(curve, method = "bootstrap", boot.n = 100, boot.stratified = TRUE, progress = "none")
    pROC::ci.coords(curve, x = "best", best.method = "youden", best.policy = "random", boot.n = 100, boot.stratified = TRUE, progress = "none")
  }))
})

# Krippendorff's alpha, ordinal, vectorised: counts of units by values, coincidences by a matrix product.
units <- read("units")
alpha <- function() {
  values <- sort(unique(as.vector(units[!is.na(units)])))
  counts <- sapply(values, function(v) rowSums(units == v, na.rm = TRUE))
  m <- rowSums(counts); keep <- m > 1; counts <- counts[keep, ]; m <- m[keep]
  o <- crossprod(counts / (m - 1), counts); diag(o) <- diag(o) - colSums(counts / (m - 1))
  n <- rowSums(o); g <- cumsum(n) - n / 2; d <- outer(g, g, "-")^2
  1 - (sum(n) - 1) * sum(o * d) / sum(outer(n, n) * d)
}
say("krippendorff", median_time(15, alpha))

if (has("psych")) {
  ratings <- read("ratings")
  say("icc", median_time(1, function() suppressWarnings(suppressMessages(psych::ICC(ratings, lmer = TRUE)))))
}
