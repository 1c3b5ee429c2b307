using System.Text.Json;
using System.Text.Json.Serialization;

namespace ProtocolKit.PilotGenerator;

/// <summary>
/// What is true of the invented children, examiners and tasks; the pilot is drawn from it. Abilities stand on a
/// scale whose unit is about one standard deviation of children of an age. All of it is invented.
/// </summary>
public sealed record Truth
{
    public required string About { get; init; }
    public required ulong Seed { get; init; }
    public required int Children { get; init; }

    /// <summary>Children who truly need help: every so many-th, so that their number is exact.</summary>
    public required int CaseEvery { get; init; }
    public required int DoubleRated { get; init; }
    public required int ReTested { get; init; }
    public required DateOnly FirstDay { get; init; }

    /// <summary>Weeks between sitting and re-test, the fewest and the most.</summary>
    public required IReadOnlyList<int> ReTestWeeks { get; init; }
    public required AbilityTruth Ability { get; init; }
    public required IReadOnlyList<RaterTruth> Raters { get; init; }
    public required ReferenceTruth Reference { get; init; }
    public required RatingTruth Ratings { get; init; }

    /// <summary>Times, lengths and counts by task; a task without one gets the middle of what is plausible.</summary>
    public required IReadOnlyDictionary<string, NumberTruth> Numbers { get; init; }

    /// <summary>Repeats a second, by task, where a task counts repeats and times them.</summary>
    public required IReadOnlyDictionary<string, NumberTruth> Rates { get; init; }
    public required ChoiceTruth Choices { get; init; }
    public required UntriedTruth Untried { get; init; }
    public required TimeTruth Times { get; init; }

    private static readonly JsonSerializerOptions Json = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        ReadCommentHandling = JsonCommentHandling.Skip,
    };

    public static Truth Read(string json) =>
        JsonSerializer.Deserialize<Truth>(json, Json)
        ?? throw new InvalidDataException("The truth is empty.");
}

/// <summary>Seconds of a task; what is timed in it comes on top.</summary>
/// <param name="Opening">Turning the page, and saying and showing what is asked.</param>
/// <param name="Turn">Each side and trial.</param>
/// <param name="Help">Each help given.</param>
/// <param name="Untried">Trying to win a child over who then does nothing.</param>
/// <param name="Spread">How the same task differs between children: standard deviation of the logarithm of its share.</param>
/// <param name="MinutesBetween">Minutes of a sitting that belong to no task.</param>
/// <param name="Missing">Chance that nobody counted.</param>
public sealed record TimeTruth(
    double Opening,
    double Turn,
    double Help,
    double Untried,
    double Spread,
    double MinutesBetween,
    double Missing
);

/// <param name="PerYear">Growth a year of age, the same for all.</param>
/// <param name="Spread">Standard deviation among children of an age.</param>
/// <param name="CasesBelow">How far children who need help lie below the others, on average.</param>
/// <param name="Occasion">Standard deviation of a child's good and bad days.</param>
/// <param name="Practice">What a second sitting gains by itself.</param>
public sealed record AbilityTruth(
    double PerYear,
    double Spread,
    double CasesBelow,
    double Occasion,
    double Practice
);

/// <param name="Severity">Taken off every movement before it is rated: above zero is stricter.</param>
/// <param name="Error">Standard deviation of single ratings about what the child did.</param>
/// <param name="ReadingBias">Added to times, lengths and counts, in units of the number's own reading error.</param>
public sealed record RaterTruth(string Code, double Severity, double Error, double ReadingBias);

/// <param name="Error">Standard deviation of the reference judge's impression about the child's ability.</param>
/// <param name="Cut">An impression below is a case.</param>
/// <param name="Borderline">An impression this near the cut is called borderline.</param>
public sealed record ReferenceTruth(double Error, double Cut, double Borderline);

/// <param name="Difficulty">By task: where between its levels the middle lies.</param>
/// <param name="HalfWidth">From the middle to the outer steps between levels.</param>
/// <param name="Child">Standard deviation of what a child can do at one task in particular, and lastingly.</param>
/// <param name="Side">The same for each side of a task.</param>
/// <param name="Day">The same for a task on one day.</param>
/// <param name="Trial">The same for one trial.</param>
public sealed record RatingTruth(
    double UsualDifficulty,
    IReadOnlyDictionary<string, double> Difficulty,
    double HalfWidth,
    double Child,
    double Side,
    double Day,
    double Trial
);

/// <summary>A time, length, count or rate: all in its own unit; standard deviations unless said otherwise.</summary>
/// <param name="Mean">At eight years, for a child of middling ability.</param>
/// <param name="PerYear">Change a year of age.</param>
/// <param name="Ability">Change a unit of ability.</param>
/// <param name="Reading">Of each examiner's own reading.</param>
public sealed record NumberTruth(
    double Mean,
    double PerYear,
    double Ability,
    double Child,
    double Day,
    double Trial,
    double Reading
);

/// <param name="First">The chance of the first option for a child of middling ability.</param>
/// <param name="Ordered">Tasks whose options go from the best to the worst and are drawn like levels.</param>
/// <param name="Error">The chance that an examiner sees another option than the child showed.</param>
/// <param name="Weights">Chances of the options by task, where the first is not the usual one.</param>
public sealed record ChoiceTruth(
    double First,
    double Error,
    IReadOnlyList<string> Ordered,
    IReadOnlyDictionary<string, IReadOnlyList<double>> Weights
);

/// <summary>Chances a task, or where said a sitting.</summary>
/// <param name="OutOfTime">A sitting ends before its last tasks.</param>
/// <param name="OtherCode">The second examiner writes another code for what was not tried.</param>
/// <param name="Help">A child who falls short is helped.</param>
/// <param name="OtherHelp">The second examiner notes help otherwise.</param>
public sealed record UntriedTruth(
    double Refused,
    double RefusedFace,
    double RefusedMouth,
    double NotUnderstood,
    double NotPossible,
    double Stopped,
    double Spoiled,
    double OutOfTime,
    double OtherCode,
    double Help,
    double OtherHelp
);
