using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Makes sure that a record belongs to this protocol, form and administration. Another interpretation is said; another form
/// or administration is refused unless its fingerprint is asked for by name.
/// </summary>
internal static class IdentityReader
{
    /// <summary>The fingerprints the record carries; nothing where one of them is missing.</summary>
    public static Fingerprints? Read(
        MapReader map,
        Protocol protocol,
        RecordOptions options,
        ProblemList problems
    )
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

        var carried = Carried(map, protocol.Fingerprints, options, problems, out var isSettled);
        Edition(map, protocol, options, isSettled, problems);
        return carried;
    }

    /// <param name="isSettled">Form and administration are this protocol's, or others that were asked for.</param>
    private static void Edition(
        MapReader map,
        Protocol protocol,
        RecordOptions options,
        bool isSettled,
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
        if (isSettled)
        {
            problems.Remark($"{message}; it was scored by this edition.");
        }
        else if (options.AcceptEditions.Contains(edition.Text))
        {
            problems.Remark($"{message}. It was scored all the same, as was asked for.");
        }
        else
        {
            problems.Add(
                edition.Origin,
                RecordKeys.Edition,
                message + ", and no fingerprints show that the form is the same.",
                $"Score it with its own edition, or ask for it by name: --accept-edition {Say.Word(edition.Text)}"
            );
        }
    }

    private static Fingerprints? Carried(
        MapReader map,
        Fingerprints mine,
        RecordOptions options,
        ProblemList problems,
        out bool isSettled
    )
    {
        isSettled = false;
        if (map.Map(RecordKeys.Fingerprints, $"form: {mine.Form}") is not { } node)
        {
            problems.Remark(
                "The record carries no fingerprints, so nothing shows with which form it was taken."
            );
            return null;
        }

        var prints = new MapReader(node, RecordKeys.Fingerprints, RecordKeys.OfFingerprints, problems);
        var (form, given, read) = (
            Print(prints, "form"),
            Print(prints, "administration"),
            Print(prints, "interpretation")
        );
        var formHolds = Holds(
            new Aspect("form", "another form", "the words, demonstrations, materials or levels differ"),
            form,
            mine.Form,
            options.AcceptForms
        );
        var givenHolds = Holds(
            new Aspect("administration", "another administration", "the order, trials, help or stops differ"),
            given,
            mine.Administration,
            options.AcceptAdministrations
        );
        isSettled = formHolds && givenHolds;
        if (read is not null && !Same(read.Text, mine.Interpretation))
        {
            problems.Remark(
                "The record was made with other scores, cut-offs or actions "
                    + $"(interpretation {Say.Word(read.Text)}); it was scored by this protocol's ({mine.Interpretation})."
            );
        }

        return form is null || given is null || read is null
            ? null
            : new Fingerprints(Lower(form), Lower(given), Lower(read));

        bool Holds(Aspect aspect, TextNode? print, string expected, IReadOnlyCollection<string> accepted)
        {
            if (print is null)
            {
                return false;
            }

            if (Same(print.Text, expected))
            {
                return true;
            }

            if (accepted.Any(a => Same(a, print.Text)))
            {
                problems.Remark(
                    $"The record was taken with {aspect.Words} ({Say.Word(print.Text)}): {aspect.Differs}. "
                        + "It was scored all the same, as was asked for."
                );
                return true;
            }

            problems.Add(
                print.Origin,
                $"{RecordKeys.Fingerprints}.{aspect.Key}",
                $"The record was taken with {aspect.Words}: {aspect.Differs}.",
                "Score it with the protocol it was taken with, or ask for it by name: "
                    + $"--accept-{aspect.Key} {Say.Word(print.Text)}"
            );
            return false;
        }
    }

    private static TextNode? Print(MapReader prints, string key) => prints.Text(key);

    private static string Lower(TextNode print) => print.Text.Trim().ToLowerInvariant();

    private static bool Same(string print, string expected) =>
        string.Equals(print.Trim(), expected.Trim(), StringComparison.OrdinalIgnoreCase);

    private sealed record Aspect(string Key, string Words, string Differs);
}
