using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Facts every report begins with.</summary>
internal static class StudyFacts
{
    /// <summary>So many reasons are printed; beyond, their number.</summary>
    private const int MostReasons = 40;

    public static IReadOnlyList<EvidenceFact> LeftOut(StudyData data) =>
        [
            .. data.LeftOut.Take(MostReasons).Select(l => new EvidenceFact(Place(l.Place), l.Why)),
            .. data.LeftOut.Count > MostReasons
                ? new[]
                {
                    Figures.Fact(
                        "And further",
                        $"{data.LeftOut.Count - MostReasons} more, all listed when the study was run"
                    ),
                }
                : [],
            .. data.Remarks.Select(r => new EvidenceFact("To know", r)),
        ];

    /// <summary>The first record of each child's first sitting: each child once.</summary>
    public static IReadOnlyList<StudySitting> EachChildOnce(StudyData data) =>
        [.. data.Sittings.Where(s => s.Number == 1).GroupBy(s => s.Case).Select(g => g.First())];

    public static string Days(IEnumerable<StudySitting> sittings)
    {
        var days = sittings.Select(s => s.Seen).ToList();
        return $"{Day(days.Min())} to {Day(days.Max())}";
    }

    public static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static string Ages(IEnumerable<StudySitting> sittings)
    {
        var ages = sittings.Select(s => s.Scored.Age).ToList();
        return $"{ages.Min()} to {ages.Max()}";
    }

    private static string Place(Origin place) =>
        place.Line == 0
            ? place.File
            : string.Create(CultureInfo.InvariantCulture, $"{place.File}, row {place.Line}");
}
