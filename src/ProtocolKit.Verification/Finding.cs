using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>The first thing, in the order of the program, in which a target's answer is not the reference's.</summary>
internal sealed record Finding(string What, string Expected, string Actual)
{
    public static Finding? Between(
        Protocol protocol,
        TrialRecord record,
        ExpectedAnswer expected,
        TargetAnswer actual,
        IScoringTarget target
    )
    {
        var program = protocol.Program;
        var outputs = target.GivesTable ? ExpectedOutput.AsRow(expected.Outputs) : expected.Outputs;
        return Numbers("field", i => program.Fields[i].Name, record.Fields, actual.Read)
            ?? Numbers("line", i => program.Lines[i].Name, expected.Lines, actual.Lines)
            ?? Outputs(outputs, actual.Outputs, target.Numbers);
    }

    private static Finding? Numbers(
        string kind,
        Func<int, string> name,
        IReadOnlyList<long> expected,
        IReadOnlyList<string> actual
    )
    {
        if (expected.Count != actual.Count)
        {
            return new Finding($"the number of {kind}s", Text(expected.Count), Text(actual.Count));
        }

        for (var i = 0; i < expected.Count; i++)
        {
            if (Text(expected[i]) != actual[i])
            {
                return new Finding($"{kind} {name(i)}", Text(expected[i]), actual[i]);
            }
        }

        return null;
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
