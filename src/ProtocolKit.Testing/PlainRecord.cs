using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>
/// A record as it is written down: answers by their keys, numbers in their units, words for options and
/// codes. What is not applicable is left out.
/// </summary>
public sealed record PlainRecord(
    long AgeMonths,
    bool IsShortForm,
    IReadOnlyList<PlainAnswer> Answers,
    IReadOnlyList<PlainObservation> Observations
)
{
    /// <summary>Answers of the case history that open or close tasks: yes or no by question.</summary>
    public IReadOnlyList<PlainHistory> History { get; init; } = [];

    /// <param name="protocol">The protocol the record is of.</param>
    /// <param name="fields">One value per field of its program, each within the field's bounds.</param>
    public static PlainRecord From(Protocol protocol, IReadOnlyList<long> fields)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(fields);
        return PlainEntries.Of(protocol.Program).Record(fields as long[] ?? [.. fields]);
    }

    /// <summary>
    /// What sets it apart from another, answer by answer, such as <c>tip-nose.rate: 0 (not 2)</c>.
    /// </summary>
    public IEnumerable<string> DifferencesFrom(PlainRecord other)
    {
        ArgumentNullException.ThrowIfNull(other);
        if (AgeMonths != other.AgeMonths)
        {
            yield return $"age {new Age((int)AgeMonths)} (not {new Age((int)other.AgeMonths)})";
        }

        if (IsShortForm != other.IsShortForm)
        {
            yield return IsShortForm ? "short form" : "full form";
        }

        foreach (var line in Compare(Texts(this), Texts(other)))
        {
            yield return line;
        }
    }

    private static Dictionary<string, string> Texts(PlainRecord record) =>
        record
            .Answers.Select(a => (a.Key, a.Text))
            .Concat(record.Observations.Select(o => (o.Key, o.Text)))
            .Concat(record.History.Select(h => ($"history {h.Key}", h.Text)))
            .ToDictionary(StringComparer.Ordinal);

    private static IEnumerable<string> Compare(
        Dictionary<string, string> mine,
        Dictionary<string, string> others
    )
    {
        foreach (var (key, text) in mine)
        {
            var before = others.GetValueOrDefault(key, "not given");
            if (before != text)
            {
                yield return $"{key}: {text} (not {before})";
            }
        }

        foreach (var (key, text) in others.Where(o => !mine.ContainsKey(o.Key)))
        {
            yield return $"{key}: not given (not {text})";
        }
    }
}

/// <summary>Either a number in the answer's unit (points for a rating), or a word: an option's name or a code.</summary>
public sealed record PlainAnswer(string Key, Rational? Number, string? Word)
{
    public Rational? Number { get; } = Number;

    public string? Word { get; } = Word;

    public string Text { get; } = Word ?? Number?.ToString() ?? "";
}

/// <summary>A question of the case history with its answer.</summary>
public sealed record PlainHistory(string Key, bool IsYes)
{
    public string Text => IsYes ? "yes" : "no";
}

/// <summary>An observation that was looked for.</summary>
public sealed record PlainObservation(string Key, bool Seen)
{
    public string Text => Seen ? "seen" : "looked";
}
