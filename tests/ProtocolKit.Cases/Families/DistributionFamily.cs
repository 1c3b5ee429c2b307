using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Numerics;
using D = MathNet.Numerics.Distributions;
using S = MathNet.Numerics.SpecialFunctions;

namespace ProtocolKit.Cases.Families;

/// <summary>Distribution functions by R's names; arguments are the value (or probability) and the parameters.</summary>
internal static class DistributionFamily
{
    private static readonly Dictionary<string, Func<double[], double>> Functions = new(StringComparer.Ordinal)
    {
        ["pnorm"] = a => Distributions.NormalCdf(a[0]),
        ["pbinom_upper"] = a => Distributions.BinomialUpper((int)Math.Floor(a[0]) + 1, (int)a[1], a[2]),
        ["qbinom"] = a => Distributions.BinomialQuantile(a[0], (int)a[1], a[2]),
        ["pbeta_upper"] = a => Distributions.BetaCdf(1 - a[0], a[2], a[1]),
        ["dt"] = a => D.StudentT.PDF(0, 1, a[1], a[0]),
        ["df"] = a => D.FisherSnedecor.PDF(a[1], a[2], a[0]),
        ["dchisq"] = a => D.ChiSquared.PDF(a[1], a[0]),
        ["dbeta"] = a => D.Beta.PDF(a[1], a[2], a[0]),
        ["dpois"] = a => D.Poisson.PMF(a[1], (int)a[0]),
        ["ppois"] = a => D.Poisson.CDF(a[1], a[0]),
        ["pgamma"] = a => S.GammaLowerRegularized(a[1], a[0] * (a.Length > 2 ? a[2] : 1)),
        ["lbeta"] = a => S.BetaLn(a[0], a[1]),
        ["lchoose"] = a => S.BinomialLn((int)a[0], (int)a[1]),
        ["gamma"] = a => S.Gamma(a[0]),
        ["erf"] = a => S.Erf(a[0]),
        ["erfc"] = a => S.Erfc(a[0]),
        ["pnorm_upper"] = a => Distributions.NormalCdf(-a[0]),
        ["dnorm"] = a => Distributions.NormalPdf(a[0]),
        ["qnorm"] = a => Distributions.NormalQuantile(a[0]),
        ["pt"] = a => Distributions.StudentCdf(a[0], a[1]),
        ["pt_upper"] = a => Distributions.StudentUpper(a[0], a[1]),
        ["qt"] = a => Distributions.StudentQuantile(a[0], a[1]),
        ["pf"] = a => Distributions.FisherCdf(a[0], a[1], a[2]),
        ["pf_upper"] = a => Distributions.FisherUpper(a[0], a[1], a[2]),
        ["qf"] = a => Distributions.FisherQuantile(a[0], a[1], a[2]),
        ["qf_noninteger"] = a => Distributions.FisherQuantile(a[0], a[1], a[2]),
        ["pchisq"] = a => Distributions.ChiSquareCdf(a[0], a[1]),
        ["pchisq_upper"] = a => Distributions.ChiSquareUpper(a[0], a[1]),
        ["qchisq"] = a => Distributions.ChiSquareQuantile(a[0], a[1]),
        ["pbeta"] = a => Distributions.BetaCdf(a[0], a[1], a[2]),
        ["qbeta"] = a => Distributions.BetaQuantile(a[0], a[1], a[2]),
        ["pbinom"] = a => Distributions.BinomialCdf((int)a[0], (int)a[1], a[2]),
        ["dbinom"] = a => Distributions.BinomialPmf((int)a[0], (int)a[1], a[2]),
        ["lgamma"] = a => Distributions.LogGamma(a[0]),
        ["digamma"] = a => Distributions.Digamma(a[0]),
    };

    public static CaseResult Compute(CaseFile file)
    {
        if (file.Data["rows"] is { } rows)
        {
            return Bivariate(Input.Table(rows, "rows"));
        }

        var figures = new JsonObject();
        foreach (var (name, arguments) in (file.Data["arguments"] ?? file.Data).AsObject())
        {
            figures[name] = Json.Try(() => Values(name, Input.Table(arguments, name)));
        }

        return new CaseResult(
            figures,
            label =>
                label.StartsWith("z .", StringComparison.Ordinal)
                    ? Distributions.NormalQuantile(Input.Number(JsonValue.Create("0" + label[2..]), label))
                    : null
        );
    }

    /// <summary>A single argument under a name of its own is answered by one number.</summary>
    private static JsonNode? Values(string name, double[][] arguments)
    {
        var function =
            Functions.GetValueOrDefault(name)
            ?? throw new NotEstimableException($"A function \"{name}\" is not known here.");
        return arguments.Length == 1
            ? Json.Number(function(arguments[0]))
            : Json.Numbers(arguments.Select(function));
    }

    private static CaseResult Bivariate(double[][] rows) =>
        new(
            Json.List(
                rows.Select(r =>
                    (JsonNode?)
                        Json.Object(
                            ("h", r[0]),
                            ("k", r[1]),
                            ("rho", r[2]),
                            ("P(X<=h,Y<=k)", BivariateNormal.Cdf(r[0], r[1], r[2]))
                        )
                )
            ),
            label =>
            {
                var values = label
                    .Trim('(', ')')
                    .Split(',')
                    .Select(t => Input.NumberOrNull(JsonValue.Create(t.Trim())))
                    .ToArray();
                return values.Length == 3 && values.All(v => v is not null)
                    ? BivariateNormal.Cdf(values[0]!.Value, values[1]!.Value, values[2]!.Value)
                    : null;
            }
        );
}
