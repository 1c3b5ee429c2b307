namespace ProtocolKit.Scoring;

/// <summary>What to say of a key that no record has.</summary>
internal static class UnknownKey
{
    /// <summary>What people write for the record's own words.</summary>
    private static readonly Dictionary<string, string> Synonyms = new(StringComparer.OrdinalIgnoreCase)
    {
        ["age"] = "age-months",
        ["months"] = "age-months",
        ["birthday"] = "born",
        ["birthdate"] = "born",
        ["birth-date"] = "born",
        ["date-of-birth"] = "born",
        ["dob"] = "born",
        ["date"] = "parts",
        ["seen"] = "parts",
        ["sittings"] = "parts",
        ["code"] = "case",
        ["id"] = "case",
        ["comments"] = "notes",
        ["remarks"] = "notes",
        ["examiner"] = "rater",
        ["responses"] = "answers",
        ["results"] = "answers",
        ["ticks"] = "observations",
        ["signs"] = "observations",
        ["version"] = "edition",
    };

    public static void Report(
        Entry entry,
        string path,
        IReadOnlyCollection<string> known,
        ProblemList problems
    )
    {
        if (NameGuard.LooksLikeName(entry.Key))
        {
            NameGuard.Refuse(problems, entry.Origin, entry.Key);
            return;
        }

        var where = path.Length == 0 ? "a record" : path;
        problems.Add(
            entry.Origin,
            entry.Key,
            $"{Say.Quote(entry.Key)} is no key of {where}.",
            Mend(entry.Key, known, problems)
        );
    }

    private static string Mend(string key, IReadOnlyCollection<string> known, ProblemList problems)
    {
        var spelt = key.Trim().ToLowerInvariant().Replace('_', '-').Replace(' ', '-');
        var meant = Synonyms.TryGetValue(spelt, out var word) && known.Contains(word) ? word : null;
        meant ??= problems.Suggest(spelt, known);
        if (meant is not null)
        {
            return $"Perhaps you mean {meant}.";
        }

        return known.Count is > 0 and <= 20
            ? $"Take it out, or write one of: {string.Join(", ", known)}."
            : "Take it out.";
    }
}
