using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Readability;

namespace ProtocolKit.Cases.Families;

/// <summary>Reading ease from counts of words, sentences, and syllables or long words.</summary>
internal static class ReadabilityFamily
{
    public static CaseResult Compute(CaseFile file) =>
        file.Data is JsonArray ? Sentences(file)
        : file.Data["rows_words_sentences_longwords"] is { } l ? Lix(Input.Table(l, "rows"))
        : Counts(
            Input.Table(
                Input.First(file.Data, "rows_words_sentences_syllables", "rows")
                    ?? Input.Tables(file.Data).FirstOrDefault().Value,
                "rows"
            ),
            Columns(file.Data),
            OwnFormulas(file)
        );

    /// <summary>The columns of a table as its key names them: rows_words_sentences_syllables.</summary>
    private static string[] Columns(JsonNode data)
    {
        var key = Input.Tables(data).FirstOrDefault().Key ?? "";
        return key.StartsWith("rows_", StringComparison.Ordinal)
            ? key[5..].Split('_')
            : ["words", "sentences", "syllables"];
    }

    /// <summary>Formulas that a case brings with it under options, by their names: each is computed as it is written.</summary>
    private static Dictionary<string, string> OwnFormulas(CaseFile file)
    {
        var own = file
            .Options.Where(o =>
                o.Value is JsonValue
                && ((string?)o.Value.ToString())!.Contains("words", StringComparison.Ordinal)
            )
            .ToDictionary(o => o.Key, o => o.Value!.ToString());
        file.UsedOptions.UnionWith(own.Keys);
        return own;
    }

    private static CaseResult Counts(double[][] rows, string[] columns, Dictionary<string, string> own)
    {
        double Own(string formula, double[] row) =>
            Formula.Value(formula, columns.Zip(row).ToDictionary(p => p.First, p => new[] { p.Second }));
        var figures = new JsonObject
        {
            ["rows"] = Json.List(
                rows.Select(r =>
                    Json.Try(() =>
                    {
                        var row = Json.Object(
                            ("w", r[0]),
                            ("s", r[1]),
                            ("y", r[2]),
                            ("FRE", Ease(r)),
                            ("FKGL", Grade(r)),
                            ("FRE_German", ReadabilityFormulas.FleschGerman(r[0], r[1], r[2]))
                        );
                        foreach (var (name, formula) in own)
                        {
                            var value = Json.Try(() => Json.Number(Own(formula, r)));
                            row[name] =
                                value is JsonObject && row[name] is { } known ? known.DeepClone() : value;
                        }

                        return row;
                    })
                )
            ),
            ["bands"] = Json.List(
                ReadabilityFormulas.Bands.Select(b => (JsonNode?)new JsonArray(b.From, b.To, b.Label))
            ),
        };
        double[] simplest = [1, 1, 1];
        return new CaseResult(
            figures,
            label =>
                label.StartsWith("FRE max", StringComparison.Ordinal) ? Ease(simplest)
                : label.StartsWith("FKGL min", StringComparison.Ordinal) ? Grade(simplest)
                : null
        );
    }

    private static double Ease(double[] r) => ReadabilityFormulas.FleschReadingEase(r[0], r[1], r[2]);

    private static double Grade(double[] r) => ReadabilityFormulas.FleschKincaidGrade(r[0], r[1], r[2]);

    private static CaseResult Lix(double[][] rows) =>
        new(
            Json.List(
                rows.Select(r =>
                    Json.Try(() =>
                        Json.Object(
                            ("w", r[0]),
                            ("s", r[1]),
                            ("l", r[2]),
                            ("LIX", ReadabilityFormulas.Lix(r[0], r[1], r[2]))
                        )
                    )
                )
            )
        );

    /// <summary>Sentences with the syllable counts that the rows asked for take as given; how syllables are counted decides.</summary>
    private static CaseResult Sentences(CaseFile file)
    {
        var asked =
            file.Requested("text", "sentences", "words", "syllables", "how_counted") as JsonArray
            ?? (JsonArray)file.Data.DeepClone();
        var rows = asked
            .OfType<JsonObject>()
            .Select(r =>
            {
                if (r["syllables"] is null)
                {
                    return Json.Error("The count of syllables decides; it must be given with the sentence.");
                }

                double[] counts =
                [
                    Input.Number(r["words"], "words"),
                    Input.Number(r["sentences"], "sentences"),
                    Input.Number(r["syllables"], "syllables"),
                ];
                var row = (JsonObject)r.DeepClone();
                row["FRE"] = Ease(counts);
                row["FKGL"] = Grade(counts);
                return row;
            })
            .ToList();
        return new CaseResult(Json.List(rows), label => Named(label, rows));
    }

    /// <summary>A word of the sentence, and the syllable count where one is named: "platypus with 26".</summary>
    private static JsonNode? Named(string label, List<JsonObject> rows)
    {
        var words = label.Split(' ');
        var count = words.Length > 2 && words[1] == "with" ? words[2] : null;
        return rows.FirstOrDefault(r =>
            ((string?)r["text"] ?? "").Contains(words[0], StringComparison.OrdinalIgnoreCase)
            && (count is null || r["syllables"]?.ToString() == count)
        )?["FRE"];
    }
}
