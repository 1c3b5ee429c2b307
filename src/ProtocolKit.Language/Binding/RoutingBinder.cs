using System.Globalization;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Start points, stop rules and skips of a section as they are printed; what they mean for each task is lowered
/// elsewhere, once tasks have their places.
/// </summary>
internal sealed class RoutingBinder(DiagnosticBag diagnostics)
{
    /// <summary>More tasks in a row than any sitting has.</summary>
    private const int MostInARow = 1000;

    public static SkipRule Skip(SkipLine line) =>
        new(line.Written, line.Credit, line.Source.OriginOf(line.Place));

    public Section Bind(SectionBlock block)
    {
        Once<DifficultyLine>(block, "order of difficulty");
        Once<GoBackLine>(block, "go back");
        Once<StopAfterLine>(block, "stop");
        var difficulty = block.Body.OfType<DifficultyLine>().FirstOrDefault();
        var starts = block.Body.OfType<StartLine>().Select(Start).OfType<StartPoint>();
        var stop = block.Body.OfType<StopAfterLine>().FirstOrDefault();
        return new Section(
            block.Name.Text,
            block.Title.Text,
            block.Body.OfType<IntroductionLine>().FirstOrDefault()?.Text.Text,
            block.Qualitative,
            block.Source.OriginOf(block.Name.Place)
        )
        {
            IsByDifficulty = difficulty is not null,
            DifficultyBasis = difficulty?.Basis?.Text,
            StartPoints = [.. starts.OrderBy(s => s.From)],
            GoBack = block.Body.OfType<GoBackLine>().FirstOrDefault() is { } back
                ? Whole(back.Count, back)
                : 0,
            Stop = stop is null
                ? null
                : new StopRule(
                    Whole(stop.Count, stop),
                    stop.Points.Number ?? Rational.Zero,
                    stop.Source.OriginOf(stop.Place)
                ),
            Skips = [.. block.Body.OfType<SkipLine>().Select(Skip)],
        };
    }

    private StartPoint? Start(StartLine line) =>
        Ages.Bind(line.From, line.Source, diagnostics) is { } from
            ? new StartPoint(from, line.Task.Text, line.Source.OriginOf(line.Place))
            : null;

    private int Whole(NumberValue count, Statement line)
    {
        if (count.Number is { IsInteger: true, Sign: > 0 } number && number <= MostInARow)
        {
            return (int)number.Numerator;
        }

        diagnostics.Report(
            line.Source,
            count.Place,
            NumberMessages.Number(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"So many in a row must be a whole number from 1 to {MostInARow}."
                ),
                "Write 2, for example."
            )
        );
        return 1;
    }

    private void Once<T>(SectionBlock block, string words)
        where T : Statement
    {
        var lines = block.Body.OfType<T>().Take(2).ToList();
        if (lines.Count > 1)
        {
            diagnostics.Clash(lines[1].At, lines[0].At, MeaningMessages.LineTwice(words));
        }
    }
}
