using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Studies;

/// <summary>Columns of a study beside the record's own: the reference judgement, groups, and minutes.</summary>
internal static class JudgementColumns
{
    public const string Reference = "reference";
    public const string Blind = "reference-blind";
    public const string By = "reference-by";
    public const string Borderline = "borderline";
    public const string Minutes = "minutes";
    public const string Case = "case";
    public const string NoCase = "no-case";

    public static IReadOnlyList<string> Groups { get; } = ["sex", "group", "site"];

    public static IReadOnlyList<string> All { get; } = [Reference, Blind, By, Borderline, Minutes, .. Groups];

    public static bool IsOne(string column) => All.Contains(column);

    /// <summary>Reads the cells; what is wrong is added to <paramref name="faults"/> as sentences.</summary>
    public static ReferenceJudgement Judgement(
        IReadOnlyDictionary<string, string> cells,
        List<string> faults
    ) =>
        new(
            OneOf(cells, Reference, Case, NoCase, faults),
            OneOf(cells, Blind, "yes", "no", faults),
            cells.GetValueOrDefault(By, "") is { Length: > 0 } by ? by : null,
            OneOf(cells, Borderline, "yes", "no", faults)
        );

    public static Rational? Number(
        IReadOnlyDictionary<string, string> cells,
        string column,
        List<string> faults
    )
    {
        var text = cells.GetValueOrDefault(column, "");
        if (text.Length == 0)
        {
            return null;
        }

        if (Rational.TryParse(text, out var number) && number.Sign >= 0)
        {
            return number;
        }

        faults.Add(
            $"{column} is {Quote(text)}, which is no number of minutes. Write one such as 35, or leave it blank."
        );
        return null;
    }

    public static string Quote(string text) => $"\"{(text.Length > 40 ? text[..40] + "…" : text)}\"";

    private static bool? OneOf(
        IReadOnlyDictionary<string, string> cells,
        string column,
        string yes,
        string no,
        List<string> faults
    )
    {
        var text = cells.GetValueOrDefault(column, "");
        if (text.Length == 0)
        {
            return null;
        }

        if (text != yes && text != no)
        {
            faults.Add($"{column} is {Quote(text)}. Write {yes} or {no}, or leave it blank.");
            return null;
        }

        return text == yes;
    }
}
