namespace ProtocolKit.Model;

/// <summary>One sitting told for the team: everything a record came to, ready to be printed. It bears the case code alone.</summary>
public sealed record TeamNote
{
    public required Protocol Protocol { get; init; }
    public required string Case { get; init; }

    /// <summary>What was used, for whom, by whom and under which conditions.</summary>
    public required IReadOnlyList<EvidenceFact> Facts { get; init; }

    /// <summary>The headline, what is more severe and still open, and the clinician's own decision with its reason.</summary>
    public required IReadOnlyList<string> Result { get; init; }

    /// <summary>The author's own note, filled in; empty where the protocol has none.</summary>
    public required IReadOnlyList<NoteParagraph> Paragraphs { get; init; }

    /// <summary>Every action with why it applies, doesn't, or is open.</summary>
    public required IReadOnlyList<string> Actions { get; init; }

    /// <summary>What changed since an earlier sitting; empty where none was given.</summary>
    public required IReadOnlyList<string> Since { get; init; }

    /// <summary>Values that have cut-offs.</summary>
    public required IReadOnlyList<NoteScore> Scores { get; init; }

    /// <summary>Values that stand beside them, each a title and what it came to.</summary>
    public required IReadOnlyList<string> Besides { get; init; }

    /// <summary>The scores of sections, to be drawn.</summary>
    public required IReadOnlyList<ProfileRow> Profile { get; init; }
    public required IReadOnlyList<NoteSection> Sections { get; init; }

    /// <summary>What to keep in mind with every result.</summary>
    public required IReadOnlyList<string> Limits { get; init; }

    /// <summary>Some band stands on cut-offs that are provisional.</summary>
    public required bool AnyProvisional { get; init; }

    /// <summary>Paragraphs for the team alone are in it: it never leaves the house.</summary>
    public required bool IsForTeamAlone { get; init; }
}

public sealed record NoteParagraph(bool ForTeamAlone, string Text);

/// <param name="Untried">What it rests on was not tried, in words; empty where nothing is missing.</param>
/// <param name="Basis">What its cut-offs rest on, with the number of children; empty where it has none.</param>
public sealed record NoteScore(string Title, string Value, string Untried, string Band, string Basis);

/// <summary>A heading and its sentences, one a line.</summary>
public sealed record NoteSection(string Title, IReadOnlyList<string> Lines);

/// <summary>A score on its range, from the worst at the left to the best at the right, with the cut-offs of the child's age.</summary>
/// <param name="Worst">The end of the range that is worst; the larger one where less is better.</param>
/// <param name="Low">The lower end of what the record leaves possible; null where there is no value.</param>
/// <param name="Value">In words, or why there is none.</param>
/// <param name="Band">The band it lies in, or that this is undecided; with what is provisional said.</param>
/// <param name="Bands">From the worst to the best; bands without a value at this age are left out.</param>
public sealed record ProfileRow(
    string Title,
    Rational Worst,
    Rational Best,
    Rational? Low,
    Rational? High,
    string Value,
    string Band,
    IReadOnlyList<ProfileBand> Bands
);

/// <param name="From">Inclusive, the smaller one.</param>
public sealed record ProfileBand(string Text, Rational From, Rational To);
