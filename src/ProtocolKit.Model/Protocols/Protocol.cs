namespace ProtocolKit.Model;

/// <summary>
/// A whole protocol after checking: everything names something, every number lies on its step.
/// What it means is <see cref="Program"/>; the rest is what is printed and shown.
/// </summary>
public sealed record Protocol
{
    public required string Name { get; init; }
    public required string Title { get; init; }
    public required string Edition { get; init; }
    public required AgeRange Ages { get; init; }

    /// <summary>Children born before term count by their corrected age until this age since birth; null: never.</summary>
    public Age? CorrectedUntil { get; init; }

    /// <summary>What each edition brought, this one's first, as far as written.</summary>
    public IReadOnlyList<EditionNote> EditionNotes { get; init; } = [];

    /// <summary>A BCP 47 tag such as <c>en</c>.</summary>
    public string Language { get; init; } = "en";

    /// <summary>Further languages there are translations for, as stated.</summary>
    public IReadOnlyList<string> Translations { get; init; } = [];

    /// <summary>Present where this is a translated form.</summary>
    public TranslationNote? Translated { get; init; }
    public MinuteRange? Sitting { get; init; }
    public int? ShortFormMinutes { get; init; }
    public string? Purpose { get; init; }
    public string? Examiner { get; init; }
    public IReadOnlyList<string> References { get; init; } = [];
    public IReadOnlyList<Material> Materials { get; init; } = [];
    public IReadOnlyList<Caution> Cautions { get; init; } = [];
    public IReadOnlyList<Scale> Scales { get; init; } = [];
    public IReadOnlyList<Observation> Observations { get; init; } = [];
    public IReadOnlyList<Section> Sections { get; init; } = [];

    /// <summary>In giving order, numbered from 1.</summary>
    public IReadOnlyList<ProtocolTask> Tasks { get; init; } = [];
    public IReadOnlyList<Outcome> Outcomes { get; init; } = [];
    public IReadOnlyList<Band> Bands { get; init; } = [];
    public IReadOnlyList<CutOffTable> CutOffs { get; init; } = [];

    /// <summary>The most severe first.</summary>
    public IReadOnlyList<ProtocolAction> Actions { get; init; } = [];
    public IReadOnlyList<Claim> Claims { get; init; } = [];
    public IReadOnlyList<ReTest> ReTests { get; init; } = [];

    /// <summary>What a new examiner shows before rating alone; null where the protocol asks for nothing.</summary>
    public Readiness? Readiness { get; init; }
    public IReadOnlyList<ReportText> Texts { get; init; } = [];
    public IReadOnlyList<HistoryQuestion> History { get; init; } = [];
    public IReadOnlyList<Consent> Consents { get; init; } = [];

    /// <summary>What may happen in a sitting; without any, a record tells of events in its own words.</summary>
    public IReadOnlyList<EventKind> Events { get; init; } = [];
    public required ScoringProgram Program { get; init; }
    public required Fingerprints Fingerprints
    {
        get => _fingerprints.Value;
        init => _fingerprints = new Lazy<Fingerprints>(value);
    }

    private Lazy<Fingerprints> _fingerprints = null!;

    public bool HasShortForm => ShortFormMinutes is not null;

    /// <summary>
    /// The same protocol, identified when its fingerprints are first asked for: they rest on every word of it, and an editor
    /// that wants to know what is wrong with a text has no use for them.
    /// </summary>
    public Protocol FingerprintedBy(Func<Protocol, Fingerprints> identify)
    {
        ArgumentNullException.ThrowIfNull(identify);
        var copy = this with { };
        copy._fingerprints = new Lazy<Fingerprints>(() => identify(copy));
        return copy;
    }
}

public sealed record MinuteRange(int From, int To);

/// <summary>Three fingerprints, each 16 hexadecimal digits: the form, how it is given, how it is read.</summary>
public sealed record Fingerprints(string Form, string Administration, string Interpretation);

public sealed record Material(string Name, string Text, string? Amount, Origin Origin);

/// <summary>A caution and what it covers; covering nothing in particular, it is a general one.</summary>
public sealed record Caution(
    string Name,
    string Text,
    IReadOnlyList<Contact> Contacts,
    IReadOnlyList<string> Materials,
    Origin Origin
)
{
    public bool IsGeneral => Contacts.Count == 0 && Materials.Count == 0;
}

public enum Contact
{
    None,
    Face,
    Mouth,
}

public enum Better
{
    Unstated,
    Higher,
    Lower,
    Middle,
}

/// <summary>Levels from the highest points to the lowest, as they are printed.</summary>
public sealed record Scale(string Name, Better Better, IReadOnlyList<Level> Levels, Origin Origin)
{
    /// <summary>The common step of the points: 1 for 0, 1, 2; 0.5 for 0, 1, 1.5.</summary>
    public required Rational Step { get; init; }
}

public sealed record Level(Rational Points, string Text, string? Example);

/// <summary>Something to tick: seen, looked and not seen, or not looked.</summary>
public sealed record Observation(string Name, string Text, bool Qualitative, Origin Origin);

public sealed record Section(string Name, string Title, string? Introduction, bool Qualitative, Origin Origin)
{
    /// <summary>Its tasks stand from the easiest to the hardest.</summary>
    public bool IsByDifficulty { get; init; }

    /// <summary>What the order of difficulty rests on, where the author says so.</summary>
    public string? DifficultyBasis { get; init; }

    /// <summary>The youngest first.</summary>
    public IReadOnlyList<StartPoint> StartPoints { get; init; } = [];

    /// <summary>From a start point, go back until so many tasks in a row are full; 0 without start points.</summary>
    public int GoBack { get; init; }
    public StopRule? Stop { get; init; }
    public IReadOnlyList<SkipRule> Skips { get; init; } = [];
}

public sealed record Band(string Name, string Text);

/// <summary>A caregiver question of the case history.</summary>
/// <param name="Kind">How it is answered on paper.</param>
public sealed record HistoryQuestion(string Name, string Text, HistoryAnswer Kind, Origin Origin)
{
    public IReadOnlyList<Gate> Gates { get; init; } = [];
}

public enum HistoryAnswer
{
    Text,
    YesNo,
}

public sealed record Consent(string Name, string Text, Origin Origin);

/// <summary>What an edition brought.</summary>
public sealed record EditionNote(string Edition, string Text);
