using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>What cut-offs or a table rest on: a published source, an own pilot, or nothing yet.</summary>
internal sealed class BasisBinder(DiagnosticBag diagnostics)
{
    /// <param name="what">What rests on it, such as <c>The cut-offs of lips-total</c>.</param>
    /// <param name="groups">How many groups of ages the children of a pilot are spread over.</param>
    public Basis Bind(Statement block, Place place, string what, List<BasisLine> bases, int groups)
    {
        if (bases.Count == 0)
        {
            if (!block.Incomplete)
            {
                Report(
                    block,
                    place,
                    MeaningMessages.Missing(
                        what,
                        "Add a line such as: basis provisional \"awaiting the pilot\""
                    )
                );
            }

            return new Basis(BasisKind.Provisional, "", null, null, []) { IsProvisional = true };
        }

        if (bases.Count > 1)
        {
            Report(bases[1], bases[1].Place, MeaningMessages.LineTwice("basis"));
        }

        var line = bases[0];
        var kind = Enum.Parse<BasisKind>(line.Kind.Text, ignoreCase: true);
        int? children = WholeDetail(line, "n");
        var small = kind == BasisKind.Pilot && (children ?? 0) < Basis.SmallRow * Math.Max(1, groups);
        var details = line
            .Details.Where(d => d.What.Text != "n")
            .Select(d => $"{d.What.Text} {d.Text?.Text ?? d.Number!.Number.ToString()}");
        return new Basis(kind, line.Text.Text, children, WholeDetail(line, "cases"), [.. details])
        {
            IsProvisional = kind == BasisKind.Provisional || small,
        };
    }

    private int? WholeDetail(BasisLine line, string what)
    {
        var detail = line.Details.FirstOrDefault(d => d.What.Text == what);
        if (detail is null)
        {
            return null;
        }

        if (detail.Number?.Number is { IsInteger: true, Sign: >= 0 } number && number < 10_000_000)
        {
            return (int)number.Numerator;
        }

        Report(
            line,
            detail.What.Place,
            NumberMessages.Number($"{what} must be a whole number.", $"Write {what} 180, for example.")
        );
        return null;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
