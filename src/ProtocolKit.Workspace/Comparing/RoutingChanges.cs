using System.Globalization;
using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>Which tasks are given: start points, stop rules, skips, gates of the case history, welfare stops.</summary>
internal static class RoutingChanges
{
    public static IEnumerable<string> Of(Protocol old, Protocol @new) =>
        Pairs(old.Sections, @new.Sections, s => s.Name)
            .SelectMany(p => p.Old is null || p.New is null ? [] : Section(p.Old, p.New))
            .Concat(
                Pairs(old.Tasks, @new.Tasks, t => t.Name)
                    .SelectMany(p =>
                        p.Old is null || p.New is null ? [] : Skips(p.New.Title, p.Old.Skips, p.New.Skips)
                    )
            )
            .Concat(Gates(old, @new))
            .Concat(Events(old, @new));

    private static IEnumerable<string> Section(Section old, Section @new) =>
        Difference(
                @new.Title,
                ("starts", Starts(old), Starts(@new)),
                ("goes back", Back(old), Back(@new)),
                ("stops", Stop(old), Stop(@new)),
                ("goes", Difficulty(old), Difficulty(@new))
            )
            .Concat(Skips(@new.Title, old.Skips, @new.Skips));

    private static IEnumerable<string> Difference(
        string title,
        params (string Verb, string Old, string New)[] what
    ) => what.Where(w => w.Old != w.New).Select(w => $"{title}: {w.Verb} {w.New} instead of {w.Old}.");

    private static string Starts(Section section) =>
        section.StartPoints.Count == 0
            ? "at the first task at all ages"
            : List(section.StartPoints.Select(s => $"at {s.Task} from {s.From}"));

    private static string Back(Section section) =>
        section.GoBack == 0 ? "never" : $"until {Number(section.GoBack)} in a row are full";

    private static string Stop(Section section) =>
        section.Stop is { } stop
            ? $"after {Number(stop.InARow)} tasks in a row rated {stop.Points}"
            : "nowhere";

    private static string Difficulty(Section section) =>
        section.IsByDifficulty ? "from the easiest to the hardest" : "in no order of difficulty";

    private static IEnumerable<string> Skips(
        string title,
        IReadOnlyList<SkipRule> old,
        IReadOnlyList<SkipRule> @new
    )
    {
        var (before, after) = (old.Select(Skip).ToList(), @new.Select(Skip).ToList());
        foreach (var skip in after.Except(before, StringComparer.Ordinal))
        {
            yield return $"{title}: is now skipped when {skip}.";
        }

        foreach (var skip in before.Except(after, StringComparer.Ordinal))
        {
            yield return $"{title}: is no longer skipped when {skip}.";
        }
    }

    private static string Skip(SkipRule skip)
    {
        var credit = skip.Credit switch
        {
            Credit.LeftOut => "left out",
            Credit.Lowest => "counted lowest",
            _ => "counted full",
        };
        return $"{Spaced(skip.Condition)}, and {credit} then";
    }

    private static IEnumerable<string> Gates(Protocol old, Protocol @new)
    {
        var (before, after) = (Gates(old), Gates(@new));
        foreach (var gate in after.Except(before, StringComparer.Ordinal))
        {
            yield return $"Case history: {gate}.";
        }

        foreach (var gate in before.Except(after, StringComparer.Ordinal))
        {
            yield return $"Case history: no longer, {gate}.";
        }
    }

    private static List<string> Gates(Protocol protocol) =>
        [
            .. protocol.History.SelectMany(q =>
                q.Gates.Select(g =>
                    $"a {(g.OnYes ? "yes" : "no")} to {q.Name} closes {g.What} ({List(g.Tasks)})"
                    + (g.Unless is { } unless ? $" unless {unless}" : "")
                )
            ),
        ];

    private static IEnumerable<string> Events(Protocol old, Protocol @new)
    {
        foreach (var (before, after) in Pairs(Stopping(old), Stopping(@new), e => e.Name))
        {
            if (before?.Stops != after?.Stops)
            {
                yield return $"{(after ?? before)!.Text} Stops {Words(after)} instead of {Words(before)}.";
            }
        }
    }

    private static IEnumerable<EventKind> Stopping(Protocol protocol) =>
        protocol.Events.Where(e => e.Stops != WelfareStop.Nothing);

    private static string Words(EventKind? kind) => kind?.StopsWords ?? "nothing";

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
