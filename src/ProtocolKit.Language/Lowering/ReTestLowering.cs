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
    public IReadOnlyList<ReTest> Lower()
    {
        var seen = new Dictionary<string, ReTestBlock>(StringComparer.Ordinal);
        foreach (var second in declared.ReTests.Where(r => !seen.TryAdd(r.Outcome.Text, r)))
        {
            diagnostics.Clash(second.At, seen[second.Outcome.Text].At, MeaningMessages.LineTwice("re-test"));
        }

        return [.. declared.ReTests.Select(Lower).OfType<ReTest>()];
    }

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

        var figures = new ReTestFigures(line, error, diagnostics);
        if (!figures.AreSound || outcomes.Find(name.Text) is not { } outcome)
        {
            return null;
        }

        return new ReTest(
            outcome,
            error,
            line.Basis.Text,
            figures.Children,
            figures.After,
            block.Source.OriginOf(block.Place)
        )
        {
            Interval = figures.Interval,
            Between = figures.Between,
        };
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

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
