using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Cohen's kappa in all its layouts: one table, several, pairs of ratings, own weights, indices beside it.</summary>
internal static partial class KappaFamily
{
    public static CaseResult Compute(CaseFile asked)
    {
        var file = asked.WithNumberedCategories();
        var data = file.Data;
        if (data["bands"] is JsonArray bands)
        {
            return new CaseResult(new JsonObject { ["note"] = LabelNote(bands), ["labels"] = LabelTable() });
        }

        if (data["ratings"] is JsonArray pairs)
        {
            return new CaseResult(
                KappaOfRatings.Pairs(pairs, file),
                label => KappaOfRatings.PairsLabel(label, pairs, file)
            );
        }

        var tables = Input
            .Tables(data)
            .Where(t => !t.Key.Contains("weights", StringComparison.Ordinal))
            .ToList();
        if (data["ratings"] is JsonObject byRater && tables.Count == 0)
        {
            data = byRater;
        }

        var lists = Input.Lists(data).Where(l => l.Key is not ("scale" or "levels" or "categories")).ToList();
        if (tables.Count == 0 && lists.Count >= 2)
        {
            return new CaseResult(
                KappaOfRatings.TwoLists(lists[0].Value, lists[1].Value, file),
                label => KappaOfRatings.IrrLabel(label, lists, file)
            );
        }

        if (
            tables.Any(t => t.Key.Contains('_') && Weights(data, Stem(t.Key)).Any())
            && tables.All(t => t.Key.EndsWith("_counts", StringComparison.Ordinal))
        )
        {
            return Weighted(file, tables);
        }

        return tables.Count == 1
            ? OneTable(file, AgreementTable.FromCounts(Input.Table(tables[0].Value, tables[0].Key)))
            : Several(file, tables);
    }

    internal static JsonObject Kappa(KappaResult k, bool weighted) =>
        Json.Object(
            ("kappa", k.Kappa),
            ("ASE", k.StandardError),
            ("ci_low", k.Interval.Low),
            ("ci_high", k.Interval.High),
            ("ASE_null", k.NullStandardError),
            ("z", k.Z),
            ("p_two_sided", k.P),
            ("n", k.Subjects),
            ("po", weighted ? null : k.Observed)
        );

    internal static JsonNode? Kappa(AgreementTable table, WeightKind kind, double confidence) =>
        Json.Try(() => Kappa(CohenKappa.Of(table, kind, confidence), kind != WeightKind.Identity));

    private static CaseResult OneTable(CaseFile file, AgreementTable table)
    {
        var weights = Weights(file.Data, "").ToList();
        if (weights.Count > 0)
        {
            return Hierarchical(file, table, weights[0].Value);
        }

        if (file.Options["weights"] is { } chosen && Input.IsTable(chosen))
        {
            return Hierarchical(file, table, CaseWeights.Of(chosen, WeightKind.Identity).For(table.Levels));
        }

        var indices =
            table.Size == 2 && file.Requested() is not JsonObject { Count: > 0 } asked
            || file.RequestedKeys.Contains("PABAK")
            || file.Method.Contains("PABAK", StringComparison.OrdinalIgnoreCase);
        var figures = indices ? Indices(table, file.Confidence) : ThreeWeights(table, file.Confidence);
        return new CaseResult(figures, label => Named(label, table, file.Confidence));
    }

    internal static JsonObject ThreeWeights(
        AgreementTable table,
        double confidence,
        string suffix = "_weights"
    ) =>
        new()
        {
            ["unweighted"] = Kappa(table, WeightKind.Identity, confidence),
            ["linear" + suffix] = Kappa(table, WeightKind.Linear, confidence),
            ["quadratic" + suffix] = Kappa(table, WeightKind.Quadratic, confidence),
        };

    private static JsonObject Indices(AgreementTable table, double confidence)
    {
        var gwet = GwetAgreement.Of(table, WeightKind.Identity, confidence);
        var figures = Json.Object(("n", table.Total), ("po", table.PercentAgreement));
        figures["kappa"] = Kappa(table, WeightKind.Identity, confidence);
        figures["AC1"] = Json.Try(() => Json.Number(gwet.Ac().Coefficient));
        figures["scott_pi"] = Json.Try(() => Json.Number(gwet.Fleiss().Coefficient));
        figures["PABAK"] = Json.Number(AgreementIndices.Pabak(table));
        if (table.Size == 2)
        {
            figures["prevalence_index"] = Json.Number(AgreementIndices.PrevalenceIndex(table));
            figures["bias_index"] = Json.Number(AgreementIndices.BiasIndex(table));
            figures["p_pos"] = Json.Number(AgreementIndices.SpecificAgreement(table, 0));
            figures["p_neg"] = Json.Number(AgreementIndices.SpecificAgreement(table, 1));
        }

        figures["kappa_max"] = Json.Try(() => Json.Number(CohenKappa.Maximum(table)));
        figures["PABAK_exact_ci"] = Json.Pair(AgreementIndices.PabakInterval(table, confidence));
        figures["kappa_ci_using_null_SE"] = Json.Try(() => Json.Pair(NullInterval(table, confidence)));
        return figures;
    }

    private static Interval NullInterval(AgreementTable table, double confidence)
    {
        var k = CohenKappa.Of(table, WeightKind.Identity, confidence);
        var z = Calibration.Numerics.Distributions.NormalMultiplier(confidence);
        return Interval.Around(k.Kappa, z * k.NullStandardError);
    }

    private static CaseResult Several(CaseFile file, List<KeyValuePair<string, JsonNode?>> tables)
    {
        var figures = new JsonObject();
        foreach (var (name, node) in tables)
        {
            figures[name] = Json.Try(() =>
                Indices(AgreementTable.FromCounts(Input.Table(node, name)), file.Confidence)
            );
        }

        return new CaseResult(figures, label => SeveralNamed(label, tables, file.Confidence));
    }

    private static JsonNode? SeveralNamed(
        string label,
        List<KeyValuePair<string, JsonNode?>> tables,
        double confidence
    )
    {
        var (name, node) = tables.FirstOrDefault(t =>
            label.StartsWith(t.Key + " ", StringComparison.Ordinal)
        );
        return name is null
            ? null
            : Named(
                label[(name.Length + 1)..],
                AgreementTable.FromCounts(Input.Table(node, name)),
                confidence
            );
    }

    /// <summary>Weighted kappas whose weights are in the data: stem_counts with stem_..._weights.</summary>
    private static CaseResult Weighted(CaseFile file, List<KeyValuePair<string, JsonNode?>> tables)
    {
        var figures = new JsonObject();
        foreach (var (name, node) in tables)
        {
            var stem = Stem(name);
            var table = AgreementTable.FromCounts(Input.Table(node, name));
            var entry = new JsonObject { ["kappa"] = Kappa(table, WeightKind.Identity, file.Confidence) };
            foreach (var (key, weights) in Weights(file.Data, stem))
            {
                var k = CohenKappa.Of(table, weights, file.Confidence);
                if (key.Contains("nonsymmetric", StringComparison.Ordinal))
                {
                    entry["weighted_nonsymmetric_kappa"] = k.Kappa;
                }
                else
                {
                    entry["weighted"] = Kappa(k, true);
                }
            }

            figures[stem] = entry;
        }

        return new CaseResult(figures, label => WeightedNamed(label, figures));
    }

    private static JsonNode? WeightedNamed(string label, JsonObject figures)
    {
        var author = label.Split('_')[0];
        var entry =
            figures.FirstOrDefault(f => f.Key.StartsWith(author, StringComparison.Ordinal)).Value
            as JsonObject;
        return label[author.Length..] switch
        {
            "_kappa" => entry?["kappa"]?["kappa"],
            "_kappa_w" => entry?["weighted"]?["kappa"],
            "_kappa_w_nonsymmetric" => entry?["weighted_nonsymmetric_kappa"],
            "_ASE" or "_se" => entry?["kappa"]?["ASE"],
            "_ASE_w" or "_se_w" => entry?["weighted"]?["ASE"],
            _ => null,
        };
    }

    /// <summary>One table with partial-credit weights: neighbours are counted as agreeing step by step (1,2; then 3,4; …).</summary>
    private static CaseResult Hierarchical(CaseFile file, AgreementTable table, double[,] partial)
    {
        var merges = new List<(int, int)>();
        var steps = new List<JsonNode?> { Step(merges) };
        foreach (var pair in MergeOrder(table.Size))
        {
            merges.Add(pair);
            steps.Add(Step(merges));
        }

        var figures = new JsonObject
        {
            ["standard"] = ThreeWeights(table, file.Confidence),
            ["hierarchical"] = Json.List(steps),
            ["partial_credit"] = Kappa(CohenKappa.Of(table, partial, file.Confidence), true),
            ["weighted"] = Kappa(CohenKappa.Of(table, partial, file.Confidence), true),
            ["kappa"] = Kappa(table, WeightKind.Identity, file.Confidence),
        };
        foreach (var (key, value) in ThreeWeights(table, file.Confidence))
        {
            figures[key] = value?.DeepClone();
        }

        return new CaseResult(
            figures,
            label => HierarchicalNamed(label, figures) ?? Named(label, table, file.Confidence)
        );

        JsonNode? Step(List<(int, int)> counted) =>
            Json.Try(() =>
                Kappa(
                    CohenKappa.Of(table, AgreementWeights.Merging(table.Size, counted), file.Confidence),
                    true
                )
            );
    }

    private static IEnumerable<(int First, int Second)> MergeOrder(int size) =>
        Enumerable
            .Range(0, size - 1)
            .Where(i => i % 2 == 0)
            .Concat(Enumerable.Range(0, size - 1).Where(i => i % 2 == 1))
            .Select(i => (i, i + 1));

    private static JsonNode? HierarchicalNamed(string label, JsonObject figures)
    {
        if (label is "kappa_w" or "weighted kappa" or "w_kappa")
        {
            return figures["weighted"]!["kappa"];
        }

        if (label is "kappa" || !HierarchyPattern().IsMatch(label))
        {
            return label is "kappa" ? figures["kappa"]!["kappa"] : null;
        }

        if (label == "kappa_partial_credit")
        {
            return figures["partial_credit"]!["kappa"];
        }

        var step = StepPattern().Match(label) is { Success: true } m
            ? int.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture)
            : 1;
        var entry = ((JsonArray)figures["hierarchical"]!).ElementAtOrDefault(step - 1);
        return entry is null ? null
            : label.StartsWith("var", StringComparison.Ordinal)
                ? Json.Number(
                    Math.Pow((double)entry["ASE"]!, 2)
                        * (label.EndsWith("x100", StringComparison.Ordinal) ? 100 : 1)
                )
            : label.StartsWith("kappa", StringComparison.Ordinal) ? entry["kappa"]
            : null;
    }

    /// <summary>The weights of the options or the data: by name, or a table of a case's own.</summary>
    internal static CaseWeights WeightsOf(CaseFile file, WeightKind otherwise) =>
        CaseWeights.Of(file.Options["weights"] ?? Input.First(file.Data, "weights"), otherwise);

    internal static JsonNode? Named(string label, AgreementTable table, double confidence)
    {
        var kind =
            label.StartsWith("w_", StringComparison.Ordinal)
            || label.Contains("linear", StringComparison.Ordinal)
                ? WeightKind.Linear
            : label.Contains("quadratic", StringComparison.Ordinal) ? WeightKind.Quadratic
            : WeightKind.Identity;
        var quantity = label
            .Replace("linear", "", StringComparison.Ordinal)
            .Replace("quadratic", "", StringComparison.Ordinal)
            .Trim();
        quantity = quantity.StartsWith("w_", StringComparison.Ordinal) ? quantity[2..] : quantity;
        if (quantity.StartsWith("PABAK", StringComparison.Ordinal) || quantity is "AC1" or "scott_pi" or "pi")
        {
            return quantity switch
            {
                "PABAK" => Json.Number(AgreementIndices.Pabak(table)),
                "PABAK_low" => Json.Number(AgreementIndices.PabakInterval(table, confidence).Low),
                "PABAK_high" => Json.Number(AgreementIndices.PabakInterval(table, confidence).High),
                "AC1" => Json.Number(GwetAgreement.Of(table).Ac().Coefficient),
                _ => Json.Number(GwetAgreement.Of(table).Fleiss().Coefficient),
            };
        }

        var k = CohenKappa.Of(table, kind, confidence);
        return quantity switch
        {
            "" or "kappa" => Json.Number(k.Kappa),
            "ASE" or "se" => Json.Number(k.StandardError),
            "ci_low" => Json.Number(k.Interval.Low),
            "ci_high" => Json.Number(k.Interval.High),
            "ASE_null" => Json.Number(k.NullStandardError),
            "z" => Json.Number(k.Z),
            "p" or "p_two_sided" => Json.Number(k.P),
            "po" => Json.Number(k.Observed),
            "pe" => Json.Number(k.Expected),
            "kappa_max" => Json.Number(CohenKappa.Maximum(table)),
            _ => null,
        };
    }

    private static string Stem(string countsKey) =>
        countsKey.Replace("_counts", "", StringComparison.Ordinal);

    /// <summary>Weight tables of the data whose key begins with a stem, as agreement weights.</summary>
    private static IEnumerable<(string Key, double[,] Value)> Weights(JsonNode data, string stem) =>
        Input
            .Tables(data)
            .Where(t =>
                t.Key.Contains("weights", StringComparison.Ordinal)
                && t.Key.StartsWith(stem, StringComparison.Ordinal)
            )
            .Select(t =>
            {
                var table = Input.Table(t.Value, t.Key);
                return (
                    t.Key,
                    t.Key.Contains("disagreement", StringComparison.Ordinal)
                        ? AgreementWeights.FromDisagreement(table)
                        : AgreementWeights.FromTable(table)
                );
            });

    private static string LabelNote(JsonArray bands) =>
        $"{bands.Count} printed bands leave gaps; labels here use upper limits on the unrounded value: 0.205 is {KappaLabels.Of(0.205)}";

    private static JsonArray LabelTable() =>
        Json.List(
            KappaLabels
                .Bands.Select(b => (JsonNode?)new JsonArray(b.UpTo, b.Label))
                .Prepend(new JsonArray("below 0", KappaLabels.Of(-1)))
        );

    [GeneratedRegex(@"^kappa_partial_credit$|^var_|_h\d")]
    private static partial Regex HierarchyPattern();

    [GeneratedRegex(@"h(\d)")]
    private static partial Regex StepPattern();
}
