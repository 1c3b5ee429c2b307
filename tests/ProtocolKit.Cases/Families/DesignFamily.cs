using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Generalizability;

namespace ProtocolKit.Cases.Families;

/// <summary>
/// G studies beyond two crossed facets: nested ones such as p x (r:t) or i:p, and three facets. The design stands under
/// options or in the method; the data are nested lists, whose order an index such as values[p][t][r] tells.
/// </summary>
internal static partial class DesignFamily
{
    /// <summary>Whether a case needs a design of its own: something nested, or more than three indices.</summary>
    public static bool Fits(CaseFile file) =>
        Design(file) is { } design
        && (design.Contains(':', StringComparison.Ordinal) || Letters().Count(design) > 3);

    public static CaseResult Compute(CaseFile file)
    {
        var node =
            Values(file.Data) ?? throw new NotEstimableException("A design needs nested lists of scores.");
        var sizes = new List<int>();
        for (JsonNode? at = node; at is JsonArray a; at = a.FirstOrDefault())
        {
            sizes.Add(a.Count);
        }

        var nesting = Nesting(Design(file)!);
        var order = Order(file, nesting, sizes.Count);
        var values = Flat(node).ToList();
        var facets = order.Select((l, i) => new Facet(l, sizes[i], nesting[l])).ToArray();
        var (sorted, arranged) = Arrange(facets, values);
        var g = BalancedDesign.Of(sorted, arranged);
        return Result(file, g, sorted);
    }

    private static CaseResult Result(CaseFile file, BalancedDesign g, Facet[] facets)
    {
        var others = facets[1..];
        var rows =
            (file.Requested([.. others.Select(f => "n_" + f.Letter)]) as JsonObject)?["D_study"] as JsonArray;
        var sizes = rows is { Count: > 0 }
            ? rows.Select(r =>
                    others.ToDictionary(
                        f => f.Letter,
                        f => Input.NumberOrNull(r?["n_" + f.Letter]) ?? f.Levels
                    )
                )
                .ToList()
            :
            [
                others.ToDictionary(f => f.Letter, f => (double)f.Levels),
                others.ToDictionary(f => f.Letter, _ => 1.0),
            ];
        JsonObject Each(Func<Component, double> value) =>
            new(g.Components.Select(c => KeyValuePair.Create(c.Name, Json.Number(value(c)))));
        var figures = new JsonObject
        {
            ["df"] = Each(c => c.Df),
            ["SS"] = Each(c => c.SumOfSquares),
            ["MS"] = Each(c => c.MeanSquare),
            ["var_raw"] = Each(c => c.Raw),
            ["var_truncated"] = Each(c => c.Variance),
            ["variance_components"] = Each(c => c.Raw),
            ["grand_mean"] = g.GrandMean,
            ["D_study"] = Json.List(sizes.Select(s => (JsonNode?)Study(g, s))),
        };
        return new CaseResult(figures, label => Named(label, g, others));
    }

    private static JsonObject Study(BalancedDesign g, Dictionary<char, double> sizes)
    {
        var d = g.Decide(sizes);
        return Json.Object([
            .. sizes.Select(s => ("n_" + s.Key, (double?)s.Value)),
            ("relative_error_var", d.Relative),
            ("absolute_error_var", d.Absolute),
            ("E_rho2", d.Generalizability),
            ("Phi", d.Dependability),
            ("SEM_absolute", d.AbsoluteError),
        ]);
    }

    /// <summary>"var_r:t", "E_rho2 (3,4)" with sizes in the order of the design.</summary>
    private static JsonNode? Named(string label, BalancedDesign g, Facet[] others)
    {
        if (label.StartsWith("var_", StringComparison.Ordinal))
        {
            var asked = string.Concat(label[4..].Order());
            return Json.Number(g.Components.FirstOrDefault(c => string.Concat(c.Name.Order()) == asked)?.Raw);
        }

        var m = Sizes().Match(label);
        var numbers = m.Groups[2]
            .Value.Split(',')
            .Select(t => Input.NumberOrNull(JsonValue.Create(t.Trim())))
            .ToList();
        return m.Success && numbers.Count == others.Length
            ? Study(g, others.Zip(numbers).ToDictionary(p => p.First.Letter, p => p.Second ?? 1))[
                m.Groups[1].Value
            ]
            : null;
    }

    /// <summary>The design as written: "p x (r:t)", "p × i × r × o", "(i:p)".</summary>
    private static string? Design(CaseFile file) =>
        ((string?)file.Options["design"] ?? (string?)file.Data["design"]) is { } said ? said
        : DesignPattern().Match(file.Method) is { Success: true } m ? m.Value
        : null;

    private static JsonArray? Values(JsonNode data) =>
        Input.First(data, "values", "scores", "ratings") as JsonArray
        ?? (data as JsonObject)
            ?.Select(p => p.Value)
            .OfType<JsonArray>()
            .FirstOrDefault(a => a[0] is JsonArray);

    /// <summary>What each letter is nested in: in p x (r:t), r in t; in p x (o:(r:t)) o in r and t.</summary>
    private static Dictionary<char, string> Nesting(string design)
    {
        var nesting = new Dictionary<char, string>();
        foreach (var part in design.ToLowerInvariant().Split('x', '×'))
        {
            var steps = part.Split(':').Select(s => string.Concat(s.Where(char.IsLetter))).ToArray();
            for (var i = 0; i < steps.Length; i++)
            {
                foreach (var letter in steps[i])
                {
                    nesting[letter] = string.Concat(steps[(i + 1)..]);
                }
            }
        }

        return nesting;
    }

    /// <summary>The letters in the order of the lists: as the index says, else persons, then what holds others, then those.</summary>
    private static List<char> Order(CaseFile file, Dictionary<char, string> nesting, int depth)
    {
        var index = (string?)file.Data["index"] ?? "";
        var letters = IndexPattern().Matches(index).Select(m => m.Groups[1].Value[0]).ToList();
        var order =
            letters.Count == depth && letters.All(nesting.ContainsKey)
                ? letters
                : [.. nesting.Keys.OrderBy(l => l != 'p').ThenBy(l => nesting[l].Length)];
        return order.Count == depth
            ? order
            : throw new NotEstimableException(
                $"The design has {order.Count} letters and the data have {depth} levels of lists; they must be as many."
            );
    }

    /// <summary>The object of measurement, p where there is one, goes first.</summary>
    private static (Facet[] Facets, List<double> Values) Arrange(Facet[] facets, List<double> values)
    {
        var at = Math.Max(0, Array.FindIndex(facets, f => f.Letter == 'p'));
        var (before, own) = (1, facets[at].Levels);
        for (var i = 0; i < at; i++)
        {
            before *= facets[i].Levels;
        }

        var after = values.Count / (before * own);
        var moved = new List<double>(values.Count);
        for (var person = 0; person < own; person++)
        {
            for (var b = 0; b < before; b++)
            {
                moved.AddRange(values.Skip(((b * own) + person) * after).Take(after));
            }
        }

        return ([facets[at], .. facets.Where((_, i) => i != at)], moved);
    }

    private static IEnumerable<double> Flat(JsonNode? node) =>
        node is JsonArray a ? a.SelectMany(Flat) : [Input.Number(node, "a score of the design")];

    [GeneratedRegex(
        @"(?<![a-z])\(?[a-z](:\(?[a-z]+\)?)*\)?( ?[x×] ?\(?[a-z](:\(?[a-z]+\)?)*\)?)+|\(?[a-z]:[a-z]\)?(?![a-z])"
    )]
    private static partial Regex DesignPattern();

    [GeneratedRegex("(?<![a-z])[a-wyz](?![a-z])")]
    private static partial Regex Letters();

    [GeneratedRegex(@"\[([a-z])[a-z]*\]")]
    private static partial Regex IndexPattern();

    [GeneratedRegex(@"^(\w+) \(([\d., ]+)\)$")]
    private static partial Regex Sizes();
}
