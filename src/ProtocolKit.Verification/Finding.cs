using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>The first thing, in the order of the program, in which a target's answer is not the reference's.</summary>
internal sealed record Finding(string What, string Expected, string Actual)
{
    public static Finding? Between(Protocol protocol, Trial trial, TargetAnswer actual, IScoringTarget target)
    {
        var program = protocol.Program;
        return Numbers("field", i => program.Fields[i].Name, trial.Record.Fields, actual.Read)
            ?? Numbers("line", i => program.Lines[i].Name, trial.Expected.Lines, actual.Lines)
            ?? Outputs(
                target.GivesTable ? trial.Expected.Row : trial.Expected.Outputs,
                actual.Outputs,
                target.Numbers
            );
    }

    private static Finding? Numbers(string kind, Func<int, string> name, long[] expected, SaidNumbers actual)
    {
        if (expected.Length != actual.Count)
        {
            return new Finding($"the number of {kind}s", Text(expected.Length), Text(actual.Count));
        }

        var place = actual.FirstOtherThan(expected);
        return place < 0
            ? null
            : new Finding($"{kind} {name(place)}", Text(expected[place]), actual.Text(place));
    }

    private static Finding? Outputs(
        IReadOnlyList<ExpectedOutput> expected,
        IReadOnlyList<KeyValuePair<string, string>> actual,
        NumberForm form
    )
    {
        for (var i = 0; i < Math.Max(expected.Count, actual.Count); i++)
        {
            if (i >= expected.Count)
            {
                return new Finding(actual[i].Key, "nothing", actual[i].Value);
            }

            if (i >= actual.Count)
            {
                return new Finding(expected[i].Key, expected[i].ToString(), "nothing");
            }

            if (expected[i].Key != actual[i].Key)
            {
                return new Finding($"output {Text(i + 1)}", expected[i].Key, actual[i].Key);
            }

            if (!expected[i].IsSaidBy(actual[i].Value, form))
            {
                return new Finding(expected[i].Key, expected[i].ToString(), actual[i].Value);
            }
        }

        return null;
    }

    private static string Text(long value) => value.ToString(CultureInfo.InvariantCulture);
}
