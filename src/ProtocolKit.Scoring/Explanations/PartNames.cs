using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>How parts of a sitting are called: a task, or one side of it.</summary>
internal static class PartNames
{
    /// <summary>More names than this in a sentence are counted and not listed; they are listed elsewhere.</summary>
    private const int MostNames = 4;

    public static string Of(ProtocolTask task, Variant variant) =>
        variant.Name.Length == 0 ? task.Title : $"{task.Title}, {Text(variant)}";

    /// <summary><c>one part refused (Kiss) and two parts not possible (Smile; Seal)</c>.</summary>
    public static string Untried(IEnumerable<KeptResult> kept)
    {
        var groups = kept.Where(k => k.State.IsUntried())
            .Select(k => (Part: Of(k.Lines.Task, k.Lines.Variant), k.State))
            .Distinct()
            .GroupBy(k => k.State)
            .Select(g => Group(g.Key, [.. g.Select(k => k.Part)]));
        return Say.List(groups);
    }

    private static string Group(State state, List<string> parts)
    {
        var count = Say.Count(parts.Count, "part", "parts");
        var names = parts.Count > MostNames ? "" : $" ({string.Join("; ", parts)})";
        return $"{count} {state.ToWords()}{names}";
    }

    private static string Text(Variant variant) => variant.Text.Length == 0 ? variant.Name : variant.Text;
}
