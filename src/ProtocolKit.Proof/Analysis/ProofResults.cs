using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>What was found so far, and the parts every question is asked of: complete records before those with untried answers.</summary>
internal sealed class ProofResults(Questions questions, IBeyondLimit? beyond = null)
{
    private readonly HashSet<string> _reasons = new(StringComparer.Ordinal);

    public Questions Questions => questions;
    public IBeyondLimit? Beyond => beyond;

    /// <summary>Looks for single records.</summary>
    public Search Search { get; } = new(questions, beyond);
    public Protocol Protocol => questions.Protocol;
    public ScoringProgram Program => questions.Program;
    public List<ProofFinding> Findings { get; } = [];
    public List<ProvedStatement> Proved { get; } = [];
    public List<string> NotProved { get; } = [];
    public List<WaivedStatement> Waived { get; } = [];

    public void Holds(ProofTopic topic, string text) => Proved.Add(new ProvedStatement(topic, text));

    public IReadOnlyList<AgeRange> Ages { get; } = AgeParts.Of(questions.Protocol);

    /// <summary>The youngest first, the full form before the short one.</summary>
    public IEnumerable<Part> Parts(bool untried) =>
        Forms.SelectMany(form => Ages.Select(ages => new Part(ages, form, untried)));

    /// <summary>Complete records first.</summary>
    public IEnumerable<Part> AllParts => Parts(untried: false).Concat(Parts(untried: true));

    public IEnumerable<long> Forms => Protocol.HasShortForm ? [0, 1] : [0];

    /// <summary>Asks a question of every part, or gives false after noting that it is not proved.</summary>
    /// <param name="what">The subject of a sentence that goes on with “was not proved”.</param>
    public bool Try(string what, Origin origin, Action work)
    {
        try
        {
            work();
            return true;
        }
        catch (ProofLimitException e)
        {
            if (_reasons.Add(what))
            {
                NotProved.Add($"{what}, because {e.Message}");
                Findings.Add(
                    new ProofFinding(
                        ProofKind.NotProved,
                        origin,
                        $"{what} was not proved, because {e.Message}.",
                        null,
                        []
                    )
                );
            }

            return false;
        }
    }

    /// <summary>Something that is worse than it should be: a finding, or told as meant where the author says why.</summary>
    public void Found(
        ProofKind kind,
        Origin origin,
        string text,
        string fix,
        string? waiver,
        IReadOnlyList<ProofSitting> sittings
    )
    {
        if (waiver is null)
        {
            Findings.Add(new ProofFinding(kind, origin, text, fix, sittings));
        }
        else
        {
            Waived.Add(new WaivedStatement(text, waiver, sittings));
        }
    }

    /// <summary>A pair, told as two sittings of one child.</summary>
    public IReadOnlyList<ProofSitting> TwoSittings(
        Part part,
        PairFound pair,
        PairKind kind,
        params Outcome[] outcomes
    )
    {
        var flawless = questions.Space(part).Baseline;
        var (first, second) = (
            SittingWords.Of(Protocol, pair.First, flawless, outcomes),
            pair.IsSmallest
                ? SittingWords.Of(Protocol, pair.Second, flawless, outcomes)
                : SittingWords.Of(Protocol, pair.Second, pair.First, outcomes, isFlawless: false)
        );
        return
        [
            first with
            {
                Words =
                [
                    pair.IsSmallest
                        ? "One sitting."
                        : "One sitting; two that differ in less may show it too.",
                    .. first.Words,
                ],
            },
            second with
            {
                Words =
                [
                    kind == PairKind.Better
                        ? "A better one: no answer worse than before."
                        : "The same, with one answer untried.",
                    .. second.Words,
                ],
            },
        ];
    }

    /// <summary>Outcomes whose bands a sitting is told with; none where there are too many to tell.</summary>
    public IEnumerable<Outcome> Banded() =>
        Protocol.Outcomes.Where(o =>
            Protocol.Outcomes.Count < 6
            || (Protocol.CutOffs.Count < 8 && Protocol.CutOffs.Any(c => c.Outcome.Name == o.Name))
        );

    public ProofSitting Sitting(Part part, long[] fields, params IEnumerable<Outcome> outcomes) =>
        SittingWords.Of(Protocol, fields, questions.Space(part).Baseline, outcomes);

    /// <summary>“at 4;0 to 5;11” where it isn't every age; the form where there are two.</summary>
    public string Where(Part part)
    {
        var ages = Ages.Count > 1 ? $" at {part.Ages}" : "";
        var form = Protocol.HasShortForm
            ? part.Form == 1
                ? " in the short form"
                : " in the full form"
            : "";
        return ages + form;
    }
}
