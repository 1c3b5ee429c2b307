using ProtocolKit.Emit.Paper;

namespace ProtocolKit.Emit.Tests.Duty;

/// <summary>A duty with the outputs that must show it, and what its words must name.</summary>
/// <param name="On">Letters of outputs: S sheet, C cards, M manual, F family, T team, K study report, P sitting page, W worksheets.</param>
/// <param name="Duties">Our own sentences on it; an author's caution of the same name stands in for one.</param>
/// <param name="Names">Patterns of which the sentences must match every one.</param>
internal sealed record DutyRow(
    string Name,
    string On,
    IReadOnlyList<Emit.Paper.Duty> Duties,
    IReadOnlyList<string> Names
)
{
    public override string ToString() => Name;
}

/// <summary>
/// The table of duties. A new output gets its letter here and its place in <see cref="DutyPlaces"/>; the tests then ask for every
/// sentence on it.
/// </summary>
internal static class DutyTable
{
    public static IReadOnlyList<DutyRow> Rows { get; } =
    [
        new("the child's agreement", "SCPMW", [Duties.Agreement], ["each|every", "touch", "yes|agree"]),
        new(
            "stop signs",
            "SCPMW",
            [Duties.StopSigns],
            ["[Ss]top", "turns away", "cries|tears", "breath", "colour", "pain", "gag"]
        ),
        new("consent", "SPM", [Duties.Consent], ["caregiver", "consent", "one thing at a time|separately"]),
        new(
            "hygiene and allergies",
            "SCPMW",
            [Duties.Hygiene, Duties.Postpone],
            ["[Cc]lean hands|Wash", "gloves", "single-use", "latex", "allerg", "infectious", "sore"]
        ),
        new(
            "gates",
            "SPM",
            [Duties.Gates],
            ["[Ll]oose teeth", "bleeding", "seizures", "operation|surgery", "swallow"]
        ),
        new(
            "nothing loose, rest",
            "CPM",
            [Duties.NothingLoose, Duties.Rest],
            ["loose", "food", "drink", "rest", "dizzy", "breath"]
        ),
        new(
            "who may give it",
            "STMW",
            [Duties.WhoGives],
            ["licensed", "student", "supervis", "[Ll]ocal rules", "no medical or dental diagnosis"]
        ),
        new(
            "no diagnosis, misses and false alarms",
            "FTKM",
            [Duties.NoDiagnosis],
            ["no diagnosis", "miss", "points out|worry"]
        ),
        new("movements say little about speech", "FTKMW", [Duties.NonSpeech], ["little about"]),
        new("languages", "SCFTKM", [Duties.Languages], ["language", "interpreter"]),
        new(
            "refer today",
            "SPFTM",
            [Duties.ReferToday],
            [
                "droop",
                "lost skill|loses",
                "swallowing",
                "breathing",
                "bleed",
                "today|same day",
                "wast|thin",
                "flicker",
            ]
        ),
    ];
}
