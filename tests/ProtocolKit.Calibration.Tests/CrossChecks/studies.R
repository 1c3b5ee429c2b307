# Where the figures of StudyStatisticsTests.cs come from: R 4.2.2 with pROC 1.18.0. Run: Rscript studies.R
suppressMessages(library(pROC))
y <- c(7.3, 12.8, 6.6, 9.2, 13.8, 7.8, 8, 7.7, 8.4, 9.3, 12.3, 7.4, 6.9, 8.7, 6.9, 8.7, 7.8, 5.2, 9.6, 8.5,
       11.3, 11.4, 13, 10.8, 11.1, 8.4, 12.9, 13.1, 7.7, 7.3, 9.8, 11.9, 15.7, 12.2, 13.1, 11.4, 7, 5.5, 5.8, 8.7)

# L, M and S by maximum likelihood: the profile likelihood of Box and Cox, maximised by optimize().
lg <- log(y)
moved <- function(l) if (abs(l) < 1e-9) lg else (exp(l * lg) - 1) / l
profile <- function(l) -length(y) / 2 * log(mean((moved(l) - mean(moved(l)))^2)) + (l - 1) * sum(lg)
L <- optimize(profile, c(-3, 3), maximum = TRUE, tol = 1e-12)$maximum
power <- L * mean(moved(L)) + 1
cat(sprintf("LMS %.10g %.10g %.10g\n", L, power^(1 / L), sqrt(mean((moved(L) - mean(moved(L)))^2)) / power))

# Distribution-free limits of percentiles, from pbinom().
x <- sort(y)
k <- 0:(length(x) - 1)
for (p in c(.05, .25, .5, .9)) {
  low <- max(-1, k[pbinom(k, 40, p) <= .025])
  high <- min(40, k[pbinom(k, 40, p) >= .975])
  cat("percentile", p, if (low < 0) NA else x[low + 1], if (high >= 40) NA else x[high + 1], "\n")
}

# Error of one sitting with its interval, from qchisq().
d <- c(1, -2, 0, 3, 1, -1, 2, 2, -3, 0, 1, 4)
v <- (length(d) - 1) * var(d) / 2
cat(sprintf("error %.12g %.12g %.12g\n", sd(d) / sqrt(2), sqrt(v / qchisq(.975, 11)), sqrt(v / qchisq(.025, 11))))

# Cases for an interval of the area, nine others for each: Hanley and McNeil written out, Obuchowski from pROC.
hanley <- function(a, n, m) {
  q1 <- a / (2 - a)
  q2 <- 2 * a^2 / (1 + a)
  sqrt((a * (1 - a) + (n - 1) * (q1 - a^2) + (m - 1) * (q2 - a^2)) / (n * m))
}
for (a in c(.7, .8, .9)) for (half in c(.05, .1)) {
  n <- 2
  while (qnorm(.975) * hanley(a, n, ceiling(9 * n)) > half) n <- n + 1
  m <- 2
  while (qnorm(.975) * sqrt(pROC:::var.theta.obuchowski(a, 9) / m) > half) m <- m + 1
  cat("area", a, half, n, m, "\n")
}

# Kendall's W of two raters by Fisher's z of their rank correlation.
z <- atanh(2 * .9 - 1) + c(-1, 1) * qnorm(.975) * sqrt((1 + .8^2 / 2) / (25 - 3))
cat(sprintf("W %.12g %.12g\n", (1 + tanh(z[1])) / 2, (1 + tanh(z[2])) / 2))
