using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>What stands behind an error of measurement: how many children, its interval, the time between sittings.</summary>
internal sealed class ReTestFigures
{
    private const int MostChildren = 10_000_000;
    private const int LongestWait = 10_000;

    private readonly ErrorLine _line;
    private readonly DiagnosticBag _diagnostics;

    public ReTestFigures(ErrorLine line, Rational error, DiagnosticBag diagnostics)
    {
        (_line, _diagnostics) = (line, diagnostics);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var clause in line.Clauses)
        {
            if (!seen.Add(clause.What.Text))
            {
                Refuse(
                    clause.What.Place,
                    ReportMessages.ReTest($"{clause.What.Text} is said twice.", "Keep one of the two.")
                );
            }

            Read(clause, error);
        }
    }

    /// <summary>False after something was reported.</summary>
    public bool AreSound { get; private set; } = true;
    public int? Children { get; private set; }
    public string? After { get; private set; }
    public (Rational From, Rational To)? Interval { get; private set; }
    public Wait? Between { get; private set; }

    private void Read(ErrorClause clause, Rational error)
    {
        switch (clause.What.Text)
        {
            case "n":
                Children = Whole(
                    clause.Number!,
                    MostChildren,
                    "n is a whole number from 1.",
                    "Write n 40, for example."
                );
                break;
            case "interval":
                ReadInterval(clause.Range!, error);
                break;
            default:
                ReadWait(clause.Range!, clause.Unit!);
                break;
        }
    }

    private void ReadInterval(NumberSpan range, Rational error)
    {
        if (range.From.Number is not { } from || range.To.Number is not { } to)
        {
            Refuse(
                range.Place,
                NumberMessages.Number("An interval has two figures.", "Write interval 1.3 to 2.0.")
            );
        }
        else if (from.Sign < 0 || from > error || error > to)
        {
            Refuse(
                range.Place,
                ReportMessages.ReTest(
                    $"The error {error} doesn't lie between {from} and {to}.",
                    "Write the interval around this error, the smaller figure first."
                )
            );
        }
        else
        {
            Interval = (from, to);
        }
    }

    private void ReadWait(NumberSpan range, Word unit)
    {
        const string Fix = "Write, for example, after 10 to 14 weeks.";
        var from = Whole(range.From, LongestWait, "This is a whole number from 1.", Fix);
        var to = Whole(range.To, LongestWait, "This is a whole number from 1.", Fix);
        if (from is not { } least || to is not { } most)
        {
            return;
        }

        if (least > most)
        {
            Refuse(
                range.Place,
                ReportMessages.ReTest($"{least} {unit.Text} is longer than {most} {unit.Text}.", Fix)
            );
            return;
        }

        After = $"{least} to {most} {unit.Text}";
        Between = new Wait(
            least,
            most,
            unit.Text switch
            {
                "days" => WaitUnit.Days,
                "weeks" => WaitUnit.Weeks,
                _ => WaitUnit.Months,
            }
        );
    }

    private int? Whole(NumberValue value, int most, string message, string fix)
    {
        if (value.Number is { IsInteger: true, Sign: > 0 } number && number < most)
        {
            return (int)number.Numerator;
        }

        Refuse(value.Place, NumberMessages.Number(message, fix));
        return null;
    }

    private void Refuse(Place place, Message message)
    {
        AreSound = false;
        _diagnostics.Report(_line.Source, place, message);
    }
}
