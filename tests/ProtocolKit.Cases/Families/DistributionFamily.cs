using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Cases.Families;

/// <summary>Distribution functions by R's names; arguments are the value (or probability) and the parameters.</summary>
internal static class DistributionFamily
{
    private static readonly Dictionary<string, Func<double[], double>> Functions = new(StringComparer.Ordinal)
    {
        ["pnorm"] = a => Distributions.NormalCdf(a[0]),
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
        ["pbinom_upper"] = a => 1 - Distributions.BinomialCdf((int)a[0], (int)a[1], a[2]),
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
