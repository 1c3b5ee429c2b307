using ProtocolKit.Model;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 6: what was found out about every record a child could produce. The words of a case come from the proof.</summary>
internal static class ProofMessages
{
    private const string Two =
        "section s \"S\"\n  task a item(three)\n  task b item(three)\nscore t \"T\"\n  add up rate of every task in s\n";

    private const string Table =
        "cut-offs t\n  ages          refer   watch   expected\n  4;0 to 5;11   {0}\n  basis provisional \"x\"\n";

    private static readonly Descriptor GapEntry = new(
        "PK6001",
        Severity.Error,
        "A value in no band",
        "Some record gives a value that lies in none of the bands of its row. Values no record can give are no gap.",
        Two + Cells("0 to 1  3       4"),
        Two + Cells("0 to 1  2 to 3  4")
    );

    private static readonly Descriptor UnreachableBandEntry = new(
        "PK6002",
        Severity.Warning,
        "A band no child reaches",
        "Whatever a child of these ages does, the value never falls into this band.",
        Two + Cells("0 to 1  2 to 4  5 to 6"),
        Two + Cells("0 to 1  2 to 3  4")
    );

    private static readonly Descriptor UnreachableActionEntry = new(
        "PK6003",
        Severity.Warning,
        "An action no record brings",
        "The action's condition can't hold for any record, so it would never be said.",
        Two + "actions\n  ask  \"Ask\"  when t is blocked\n  done \"Done\" when no other action applies\n",
        Two
            + "  untried blocks\nactions\n  ask  \"Ask\"  when t is blocked\n  done \"Done\" when no other action applies\n"
    );

    private static readonly Descriptor NeverHeadlineEntry = new(
        "PK6004",
        Severity.Note,
        "An action that is never the headline",
        "Whenever this action applies, a more severe one applies too and is named first. Both are reported; this may be meant.",
        Two
            + "actions\n  full  \"Full\"  when t <= 2\n  again \"Again\" when t <= 1\n  finish-it \"Finish\", finish when (a is untried or b is untried)\n  none  \"None\"  when no other action applies\n",
        Two
            + "actions\n  full  \"Full\"  when t <= 1\n  again \"Again\" when t <= 2\n  finish-it \"Finish\", finish when (a is untried or b is untried)\n  none  \"None\"  when no other action applies\n"
    );

    private static readonly Descriptor NoActionEntry = new(
        "PK6005",
        Severity.Error,
        "A record without an action",
        "Some record ends with no action that surely applies: nobody would be told what to do. An action marked finish catches records that can't be decided yet.",
        Two + "actions\n  full \"Full\" when t <= 2\n  none \"None\" when no other action applies\n",
        Two
            + "actions\n  full \"Full\" when t <= 2\n  finish-it \"Finish\", finish when (a is untried or b is untried)\n  none \"None\" when no other action applies\n"
    );

    private static readonly Descriptor ClaimEntry = new(
        "PK6006",
        Severity.Error,
        "A claim that is false",
        "Some record meets the claim's condition while what it concludes surely fails. The smallest such record is told.",
        Two + "claim \"half is enough\" when a = 2 then t >= 3\n",
        Two + "claim \"half is something\" when a = 2 then t >= 2\n"
    );

    private static readonly Descriptor EmptyEntry = new(
        "PK6007",
        Severity.Warning,
        "A claim about no record",
        "The claim holds, but only because no record ever meets the condition after when.",
        Two + "claim \"more than all\" when t > 4 then a = 2\n",
        Two + "claim \"all\" when t = 4 then a = 2\n"
    );

    private static readonly Descriptor RangeEntry = new(
        "PK6008",
        Severity.Error,
        "A claimed range that isn't so",
        "Complete records reach other ends than the claimed ones, or some record leaves the range.",
        "section s \"S\"\n  task a item(odd)\nscore t \"T\"\n  add up rate of every task in s\n  claim range 0 to 4\n",
        "section s \"S\"\n  task a item(odd)\nscore t \"T\"\n  add up rate of every task in s\n  claim range 0 to 5\n"
    );

    private static readonly Descriptor WorseBandEntry = new(
        "PK6009",
        Severity.Error,
        "A worse band for a better sitting",
        "Of two sittings, one as good or better in every answer, the better one gets a worse band. All pairs are compared, not single steps. Where it is meant, the cut-offs say why: worse on purpose \"…\".",
        "task a\n  rate three\nscore t \"T\" = if a = 1 then 0 otherwise 1\ncut-offs t\n  ages          refer  expected\n  4;0 to 5;11   0      1\n  basis provisional \"x\"\n",
        "task a\n  rate three\nscore t \"T\" = if a = 0 then 0 otherwise 1\ncut-offs t\n  ages          refer  expected\n  4;0 to 5;11   0      1\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor WorseActionEntry = new(
        "PK6010",
        Severity.Error,
        "A more severe action for a better sitting",
        "Of two sittings, one as good or better in every answer, the better one brings a more severe headline. Counting bands of the middle kind alone does so: one that was worse comes to count. Where it is meant, the action says why: worse on purpose \"…\".",
        Two
            + "actions\n  again \"Again\" when t = 2\n  finish-it \"Finish\", finish when (a is untried or b is untried)\n  none \"None\" when no other action applies\n",
        Two
            + "actions\n  again \"Again\" when t <= 2\n  finish-it \"Finish\", finish when (a is untried or b is untried)\n  none \"None\" when no other action applies\n"
    );

    private static readonly Descriptor SofterRefusalEntry = new(
        "PK6011",
        Severity.Error,
        "A refusal that softens a result",
        "With one answer untried, the same sitting gets a better band, or loses an action without a more severe one or one marked finish in its place. What was not tried must never look fine.",
        Two + "  untried scaled up, at most 1\n" + Cells("0 to 2  3       4"),
        Two + Cells("0 to 2  3       4")
    );

    private static readonly Descriptor NotProvedEntry = new(
        "PK6012",
        Severity.Warning,
        "Not proved",
        "The question is larger than what is worked out exactly. Nothing is known about it either way: it may hold or fail.",
        "task a\n  count beads 0 to 3000000\nmeasure m in beads = a.beads\nclaim \"many\" when m > 0 beads then m >= 1 beads\n",
        "task a\n  count beads 0 to 30\nmeasure m in beads = a.beads\nclaim \"many\" when m > 0 beads then m >= 1 beads\n"
    );

    public static Message Of(ProofFinding finding) =>
        new(EntryOf(finding.Kind), finding.Text, finding.Fix)
        {
            Details = [.. finding.Sittings.SelectMany(s => s.Words)],
        };

    private static Descriptor EntryOf(ProofKind kind) =>
        kind switch
        {
            ProofKind.Gap => GapEntry,
            ProofKind.UnreachableBand => UnreachableBandEntry,
            ProofKind.UnreachableAction => UnreachableActionEntry,
            ProofKind.NeverHeadline => NeverHeadlineEntry,
            ProofKind.NoAction => NoActionEntry,
            ProofKind.ClaimFails => ClaimEntry,
            ProofKind.EmptyPremise => EmptyEntry,
            ProofKind.RangeFails => RangeEntry,
            ProofKind.WorseBand => WorseBandEntry,
            ProofKind.WorseAction => WorseActionEntry,
            ProofKind.SofterRefusal => SofterRefusalEntry,
            _ => NotProvedEntry,
        };

    private static string Cells(string cells) => Table.Replace("{0}", cells, StringComparison.Ordinal);
}
