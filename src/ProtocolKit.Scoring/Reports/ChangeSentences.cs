using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says a change between two sittings, with how sure one can be of it.</summary>
internal static class ChangeSentences
{
    public static string Of(ChangeResult change) =>
        change.Answer switch
        {
            ChangeAnswer.BeyondError =>
                $"{Size(change)}: beyond the error of measurement, so more than two sittings differ by themselves.",
            ChangeAnswer.WithinError =>
                $"{Size(change)}: within the error of measurement. That shows neither a change nor that there is none.",
            _ => $"cannot say. {change.Why}{(change.Least is null ? "" : $" ({Size(change)})")}",
        };

    /// <summary><c>standard error 1.1, from …; 40 children; 10 to 14 weeks apart</c>.</summary>
    public static string Basis(ReTest reTest)
    {
        var interval = reTest.Interval is { } between ? $" ({between.From} to {between.To})" : "";
        var children = reTest.Children is { } n ? $"; {Say.Count(n, "child", "children")}" : "";
        var after = reTest.After is { } wait ? $"; sittings {wait} apart" : "";
        var error = AnswerText.WithUnit(reTest.Error, reTest.Outcome.Unit);
        return $"Standard error of one sitting {error}{interval}: {reTest.Basis}{children}{after}.";
    }

    private static string Size(ChangeResult change)
    {
        var unit = change.ReTest.Outcome.Unit;
        var (least, most) = (change.Least!.Value, change.Most!.Value);
        return least == most
            ? least.Sign == 0
                ? "the same value"
                : $"{Way(least)} by {AnswerText.WithUnit(Size(least), unit)}"
            : $"between {Signed(least)} and {Signed(most)}{(unit.IsPure ? "" : $" {unit.Symbol}")}";
    }

    private static string Way(Rational change) => change.Sign > 0 ? "up" : "down";

    private static Rational Size(Rational change) => change.Sign < 0 ? -change : change;

    private static string Signed(Rational change) => change.Sign > 0 ? $"+{change}" : change.ToString();
}
