using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>
/// A formula or condition as it is read aloud: <c>pa-run.syllables</c> becomes <c>syllables of “Pa, again and again”</c>, a score its title.
/// What has no title keeps its words. A minus stands between spaces, so hyphens only ever join words.
/// </summary>
internal static partial class FormulaWords
{
    public static string Of(Protocol protocol, string written) =>
        Name().Replace(written, name => Say(protocol, name.Value, written[..name.Index]));

    /// <summary>A score's title in quotation marks; the words of a name that is none.</summary>
    public static string OfOutcome(Protocol protocol, string name) =>
        protocol.Outcomes.FirstOrDefault(o => o.Name == name) is { } outcome
            ? Quoted(outcome.Title)
            : Names.ToWords(name);

    private static string Say(Protocol protocol, string name, string before)
    {
        var parts = name.Split('.');
        if (parts.Length > 1)
        {
            var task = protocol.Tasks.FirstOrDefault(t => t.Name == parts[0]);
            var of = task is null ? Names.ToWords(parts[0]) : Quoted(task.Title);
            var sides = string.Concat(parts.Skip(2).Select(p => $", {Names.ToWords(p)}"));
            return $"{Names.ToWords(parts[1])} of {of}{sides}";
        }

        var section = before.EndsWith(" in ", StringComparison.Ordinal)
            ? protocol.Sections.FirstOrDefault(s => s.Name == name)
            : null;
        return section is null ? OfOutcome(protocol, name) : Quoted(section.Title);
    }

    private static string Quoted(string title) => $"“{title}”";

    [GeneratedRegex(@"[a-z][a-z0-9]*(-[a-z0-9]+)*(\.[a-z][a-z0-9]*(-[a-z0-9]+)*)*")]
    private static partial Regex Name();
}
