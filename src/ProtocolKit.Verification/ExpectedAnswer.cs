using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Verification;

/// <summary>What Scoring says of a record: every line, and every output in the words of emitted code.</summary>
internal sealed class ExpectedAnswer
{
    private IReadOnlyList<ExpectedOutput>? _row;

    private ExpectedAnswer(long[] lines, IReadOnlyList<ExpectedOutput> outputs) =>
        (Lines, Outputs) = (lines, outputs);

    public long[] Lines { get; }

    public IReadOnlyList<ExpectedOutput> Outputs { get; }

    /// <summary>The outputs as a row of a table has them.</summary>
    public IReadOnlyList<ExpectedOutput> Row => _row ??= ExpectedOutput.AsRow(Outputs);

    public static ExpectedAnswer Of(Protocol protocol, long[] fields)
    {
        var scored = Scorer.Score(
            protocol,
            new SittingRecord
            {
                Case = "",
                Age = new Age((int)fields[protocol.Program.AgeField]),
                Seen = [],
                IsShortForm = fields[protocol.Program.FormField] == 1,
                Fields = fields,
            }
        );
        return new ExpectedAnswer(
            scored.Lines as long[] ?? [.. scored.Lines],
            ExpectedOutputs.Of(protocol.Program).Say(scored)
        );
    }
}
