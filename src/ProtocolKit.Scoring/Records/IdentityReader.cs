using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Makes sure that a record belongs to this protocol, form and administration.</summary>
internal static class IdentityReader
{
    public static void Check(MapReader map, Protocol protocol, RecordOptions options, ProblemList problems)
    {
        if (
            map.Needed(RecordKeys.Protocol, protocol.Name) is { } name
            && !string.Equals(name.Text, protocol.Name, StringComparison.Ordinal)
        )
        {
            problems.Add(
                name.Origin,
                RecordKeys.Protocol,
                $"This record is of the protocol {Say.Quote(name.Text)}, not of {protocol.Name}.",
                "Score it with its own protocol, or mend the name."
            );
        }

        var isSameForm = CheckFingerprints(map, protocol.Fingerprints, options, problems);
        CheckEdition(map, protocol, options, isSameForm, problems);
    }

    private static void CheckEdition(
        MapReader map,
        Protocol protocol,
        RecordOptions options,
        bool isSameForm,
        ProblemList problems
    )
    {
        if (
            map.Needed(RecordKeys.Edition, protocol.Edition) is not { } edition
            || edition.Text == protocol.Edition
        )
        {
            return;
        }

        var message =
            $"The record is of edition {Say.Quote(edition.Text)}, the protocol of edition {protocol.Edition}";
        if (isSameForm)
        {
            problems.Remark(
                $"{message}; the form and how it is given are the same, so it was scored by this edition."
            );
        }
        else if (options.AllowOtherForm)
        {
            problems.Remark($"{message}. It was scored all the same, as was asked for.");
        }
        else
        {
            problems.Add(
                edition.Origin,
                RecordKeys.Edition,
                message + ".",
                "Score it with its own edition, or ask by name for another form to be taken."
            );
        }
    }

    /// <summary>True when form and administration are both given and both this protocol's.</summary>
    private static bool CheckFingerprints(
        MapReader map,
        Fingerprints expected,
        RecordOptions options,
        ProblemList problems
    )
    {
        if (map.Map(RecordKeys.Fingerprints, $"form: {expected.Form}") is not { } node)
        {
            problems.Remark(
                "The record carries no fingerprints, so nothing shows with which form it was taken."
            );
            return false;
        }

        var prints = new MapReader(node, RecordKeys.Fingerprints, RecordKeys.OfFingerprints, problems);
        var form = Compare(
            prints,
            "form",
            expected.Form,
            "the words, demonstrations, materials or levels differ"
        );
        var given = Compare(
            prints,
            "administration",
            expected.Administration,
            "the order, trials, help or stops differ"
        );
        if (prints.Text("interpretation") is { } read && !Same(read, expected.Interpretation))
        {
            problems.Remark(
                "The record was made with other scores, cut-offs or actions; it was scored by this protocol's."
            );
        }

        return form && given;

        bool Compare(MapReader level, string key, string mine, string differs)
        {
            if (level.Text(key) is not { } print)
            {
                return false;
            }

            if (Same(print, mine))
            {
                return true;
            }

            if (options.AllowOtherForm)
            {
                problems.Remark(
                    $"The record was taken with another form: {differs}. It was scored all the same, as was asked for."
                );
            }
            else
            {
                problems.Add(
                    print.Origin,
                    $"{RecordKeys.Fingerprints}.{key}",
                    $"The record was taken with another form: {differs}.",
                    "Score it with the protocol it was taken with, or ask by name for another form to be taken."
                );
            }

            return false;
        }
    }

    private static bool Same(TextNode print, string expected) =>
        string.Equals(print.Text.Trim(), expected, StringComparison.OrdinalIgnoreCase);
}
