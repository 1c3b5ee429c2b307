using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <param name="Problems">Why the agreed record is none, as sentences.</param>
/// <param name="Settled">Where the originals differ, and what was agreed.</param>
public sealed record AgreementCheck(IReadOnlyList<string> Problems, IReadOnlyList<string> Settled);

/// <summary>
/// Holds a record that two raters agreed on against the two originals it names by digest: they must be there unchanged, of the
/// same case and sitting, and what both say can't become something else.
/// </summary>
public static class AgreedRecords
{
    /// <param name="protocol">The protocol all three were read with.</param>
    /// <param name="agreed">A record with two originals.</param>
    /// <param name="given">Records among which the originals are looked for.</param>
    public static AgreementCheck Check(
        Protocol protocol,
        SittingRecord agreed,
        IEnumerable<SittingRecord> given
    )
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(agreed);
        ArgumentNullException.ThrowIfNull(given);
        var all = given.ToList();
        var problems = new List<string>();
        var originals = new List<SittingRecord>();
        foreach (var named in agreed.AgreedFrom)
        {
            var found = all.Find(r => r.Digest == named.Digest);
            if (found is null)
            {
                problems.Add(
                    $"The original of {named.Rater} ({named.Digest}) is not among the records given, or was changed since."
                );
                continue;
            }

            originals.Add(found);
            if (found.Rater?.Code != named.Rater)
            {
                problems.Add($"The original {named.Digest} is not by {named.Rater}.");
            }

            if (found.Case != agreed.Case || !found.Seen.SequenceEqual(agreed.Seen))
            {
                problems.Add($"The original of {named.Rater} is of another case or sitting.");
            }
        }

        var settled = new List<string>();
        if (problems.Count == 0 && originals.Count == 2)
        {
            Compare(protocol, agreed, originals, problems, settled);
        }

        return new AgreementCheck(problems, settled);
    }

    private static void Compare(
        Protocol protocol,
        SittingRecord agreed,
        List<SittingRecord> originals,
        List<string> problems,
        List<string> settled
    )
    {
        foreach (var slot in protocol.Program.Answers)
        {
            var (one, two, now) = (Text(slot, originals[0]), Text(slot, originals[1]), Text(slot, agreed));
            if (one != two)
            {
                settled.Add(
                    $"{slot.Key}: {one} ({originals[0].Rater?.Code}) and {two} ({originals[1].Rater?.Code}) became {now}"
                );
            }
            else if (now != one)
            {
                problems.Add($"{slot.Key}: both originals have {one}, the agreed record has {now}.");
            }
        }
    }

    private static string Text(AnswerSlot slot, SittingRecord record)
    {
        var state = (State)record.Fields[slot.StateField];
        return state == State.NotApplicable
            ? "nothing"
            : AnswerValue.Write(slot.Response, state, record.Fields[slot.ValueField]);
    }
}
