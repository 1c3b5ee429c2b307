using System.Globalization;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Manual;

/// <summary>What was proved, as plain tables: the same for the manual and for the technical page.</summary>
/// <param name="Asked">False where no proof was attempted.</param>
/// <param name="Nothing">Why nothing was asked.</param>
/// <param name="Records">How many different sheets there can be; empty where they were not counted.</param>
/// <param name="Proved">A topic and a statement a row.</param>
/// <param name="Waived">Where better answers give a worse result and the author says why.</param>
/// <param name="NotProved">What could not be decided.</param>
/// <param name="Findings">What fails, with the smallest sitting that shows it.</param>
/// <param name="Limits">What a proof can’t say.</param>
public sealed record ProofsView(
    bool Asked,
    string Nothing,
    IReadOnlyList<FactView> Records,
    IReadOnlyList<FactView> Proved,
    IReadOnlyList<FactView> Waived,
    IReadOnlyList<string> NotProved,
    IReadOnlyList<FindingView> Findings,
    IReadOnlyList<string> Limits
);

/// <param name="Text">What does not hold.</param>
/// <param name="Sitting">Told line by line.</param>
public sealed record FindingView(string Text, IReadOnlyList<string> Sitting);

/// <summary>The technical page: fingerprints, every claim as written, and all that was proved.</summary>
/// <param name="Frame">Letterhead, page and foot.</param>
/// <param name="Fingerprints">Of form, administration and interpretation.</param>
/// <param name="Claims">The author’s, each with its words.</param>
/// <param name="Proofs">What came out.</param>
/// <param name="Duties">What every report must say.</param>
public sealed record ProofPageView(
    FrameView Frame,
    IReadOnlyList<FactView> Fingerprints,
    IReadOnlyList<FactView> Claims,
    ProofsView Proofs,
    IReadOnlyList<string> Duties
);

internal static class ProofViews
{
    public static ProofPageView Page(Protocol protocol, OutputOptions options) =>
        new(
            ReportFrame.Of(protocol, "Proofs", $"edition {protocol.Edition}", options),
            [
                new("Form", Words.Grouped(protocol.Fingerprints.Form)),
                new("Administration", Words.Grouped(protocol.Fingerprints.Administration)),
                new("Interpretation", Words.Grouped(protocol.Fingerprints.Interpretation)),
            ],
            [
                .. protocol.Claims.Select(c => new FactView(
                    c.Text,
                    $"When {FormulaWords.Of(protocol, c.Premise)}, then {FormulaWords.Of(protocol, c.Conclusion)}."
                )),
            ],
            Of(protocol, options.Proof, everyLine: true),
            [Duties.NoDiagnosis.In(protocol), Duties.WhoGives.In(protocol)]
        );

    /// <param name="everyLine">Each statement in a row; else those on bands and ranges are counted.</param>
    public static ProofsView Of(Protocol protocol, ProofReport? report, bool everyLine) =>
        report is null
            ? new(false, ManualTexts.NothingProved, [], [], [], [], [], ManualTexts.ProofLimits)
            : new(
                true,
                "",
                Records(report),
                [
                    .. report
                        .Proved.GroupBy(p => p.Topic)
                        .OrderBy(t => t.Key)
                        .SelectMany(t => Rows(protocol, t, everyLine)),
                ],
                [.. report.Waived.Select(w => new FactView(Sentence(w.Text), Sentence(w.Reason)))],
                [.. report.NotProved.Select(Sentence)],
                [
                    .. report.Findings.Select(f => new FindingView(
                        f.Text,
                        [.. f.Sittings.SelectMany(s => s.Words)]
                    )),
                ],
                ManualTexts.ProofLimits
            );

    private static IEnumerable<FactView> Rows(
        Protocol protocol,
        IGrouping<ProofTopic, ProvedStatement> topic,
        bool everyLine
    )
    {
        var counted = topic.Key switch
        {
            _ when everyLine => null,
            ProofTopic.Bands => string.Create(
                CultureInfo.InvariantCulture,
                $"{topic.Count()} of {protocol.CutOffs.Count} cut-off tables: every value a child can reach lies in one band, and every band is reached."
            ),
            ProofTopic.Ranges => string.Create(
                CultureInfo.InvariantCulture,
                $"{topic.Count()} claimed ranges hold, and their ends are reached."
            ),
            ProofTopic.Monotony when topic.Count() > 1 => string.Create(
                CultureInfo.InvariantCulture,
                $"Better answers never give a worse result: {topic.Count()} of {protocol.CutOffs.Count + Math.Min(1, protocol.Actions.Count)} tables and actions."
            ),
            _ => null,
        };
        return counted is null
            ? topic.Select(p => new FactView(Topic(p.Topic), Sentence(p.Text)))
            : [new FactView(Topic(topic.Key), counted)];
    }

    private static List<FactView> Records(ProofReport report) =>
        report.Records is { } records
            ?
            [
                new("Complete records of a child of one age", Number(records.Complete)),
                new("With untried answers besides", Number(records.All)),
            ]
            : [];

    private static string Topic(ProofTopic topic) =>
        topic switch
        {
            ProofTopic.Bands => "Bands",
            ProofTopic.Actions => "Actions",
            ProofTopic.Claims => "Claims",
            ProofTopic.Ranges => "Ranges",
            ProofTopic.Monotony => "Better answers",
            ProofTopic.Refusal => "Refusals",
            _ => Names.ToTitle(topic.ToString()),
        };

    private static string Sentence(string text)
    {
        var first = text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
        return first.EndsWith('.') ? first : first + ".";
    }

    private static string Raised(int power) =>
        string.Concat(power.ToString(CultureInfo.InvariantCulture).Select(c => "⁰¹²³⁴⁵⁶⁷⁸⁹"[c - '0']));

    /// <summary>Exact up to twelve digits, then the first two and a power of ten.</summary>
    private static string Number(System.Numerics.BigInteger count)
    {
        var digits = count.ToString(CultureInfo.InvariantCulture);
        return digits.Length <= 12
            ? digits
            : $"about {digits[0]}.{digits[1]} × 10{Raised(digits.Length - 1)}";
    }
}
