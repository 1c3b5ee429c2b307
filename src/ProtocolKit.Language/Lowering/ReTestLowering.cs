using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Re-tests: whose error of measurement, how large, and what that rests on.</summary>
internal sealed class ReTestLowering(
    Declarations declared,
    OutcomeLowering outcomes,
    DiagnosticBag diagnostics
)
{
    private const int MostChildren = 10_000_000;

    public IReadOnlyList<ReTest> Lower() => [.. declared.ReTests.Select(Lower).OfType<ReTest>()];

    private ReTest? Lower(ReTestBlock block)
    {
        var name = block.Outcome;
        if (declared.Values.Require(name, block.Source) is not { } statement)
        {
            return null;
        }

        if (statement is not OutcomeBlock)
        {
            Report(block, name.Place, NameMessages.NotHere(name.Text, "a task", "a measure or score"));
            return null;
        }

        if (block.Errors.Count != 1)
        {
            ReportErrors(block);
            return null;
        }

        var line = block.Errors[0];
        if (line.Error.Number is not { Sign: > 0 } error)
        {
            Report(
                line,
                line.Error.Place,
                NumberMessages.Number(
                    "An error of measurement is larger than zero.",
                    "Write, for example, error 1.6."
                )
            );
            return null;
        }

        if (Children(line) is not { } children || outcomes.Find(name.Text) is not { } outcome)
        {
            return null;
        }

        return new ReTest(
            outcome,
            error,
            line.Basis.Text,
            children.Number,
            line.After,
            block.Source.OriginOf(block.Place)
        );
    }

    private void ReportErrors(ReTestBlock block)
    {
        if (block.Errors.Count > 1 || !block.Incomplete)
        {
            Report(
                block,
                block.Place,
                MeaningMessages.Missing(
                    "A re-test states its error of measurement once.",
                    "Write one line under it, such as: error 1.6 \"where it comes from\""
                )
            );
        }
    }

    /// <summary>The number of children, where it is stated; null after reporting.</summary>
    private Stated? Children(ErrorLine line)
    {
        if (line.Children is not { } value)
        {
            return new Stated(null);
        }

        if (value.Number is { IsInteger: true, Sign: > 0 } number && number < MostChildren)
        {
            return new Stated((int)number.Numerator);
        }

        Report(
            line,
            value.Place,
            NumberMessages.Number("n must be a whole number from 1.", "Write n 40, for example.")
        );
        return null;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);

    private sealed record Stated(int? Number);
}
