using System.Text.Json;
using ProtocolKit.Model;
using ProtocolKit.Testing;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// The keys a record may hold, in the order in which its entries stand, so that entries can be handed over as plain lists.
/// </summary>
internal sealed class RecordKeyLists(ScoringProgram program)
{
    private readonly string[] _answers = [.. program.Answers.Select(a => a.Key)];
    private readonly string[] _observations = [.. program.Observations.Select(o => o.Key)];
    private readonly string[] _history = [.. program.History.Select(h => h.Key)];

    /// <summary>For a harness: the three lists of keys.</summary>
    public string Json =>
        JsonSerializer.Serialize(
            new
            {
                answers = _answers,
                observations = _observations,
                history = _history,
            }
        );

    /// <summary>The same as a module.</summary>
    public string JavaScript => $"export const keys = {Json};\n";

    /// <summary>An entry for each answer's key; null where the record has none.</summary>
    public IEnumerable<PlainAnswer?> Answers(PlainRecord record) =>
        Beside(_answers, record.Answers, a => a.Key);

    /// <summary>The same for observations.</summary>
    public IEnumerable<PlainObservation?> Observations(PlainRecord record) =>
        Beside(_observations, record.Observations, o => o.Key);

    /// <summary>The same for questions of the case history.</summary>
    public IEnumerable<PlainHistory?> History(PlainRecord record) =>
        Beside(_history, record.History, h => h.Key);

    private static IEnumerable<T?> Beside<T>(string[] keys, IReadOnlyList<T> entries, Func<T, string> keyOf)
        where T : class
    {
        var next = 0;
        foreach (var key in keys)
        {
            var isThere = next < entries.Count && keyOf(entries[next]) == key;
            yield return isThere ? entries[next++] : null;
        }
    }
}
