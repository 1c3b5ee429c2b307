using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Reads a record, in YAML or JSON, against its protocol. Whatever the text holds, nothing is thrown; whatever is
/// wrong is told at once.
/// </summary>
public static class RecordReader
{
    /// <param name="text">The whole text; a byte order mark and any line ends are taken.</param>
    /// <param name="fileName">How the text is called in messages.</param>
    /// <param name="protocol">The protocol the record should be of.</param>
    /// <param name="options">What is asked for by name; nothing by default.</param>
    public static RecordReading Read(
        string text,
        string fileName,
        Protocol protocol,
        RecordOptions? options = null
    )
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(fileName);
        ArgumentNullException.ThrowIfNull(protocol);
        var problems = new ProblemList(fileName);
        var record = TreeReader.Read(text, problems) switch
        {
            MapNode root => Read(root, protocol, options ?? new RecordOptions(), problems),
            null or ReportedNode => null,
            var other => RefuseShape(other, problems),
        };
        return problems.Any ? new RecordReading(null, problems.InOrder()) : new RecordReading(record, []);
    }

    private static SittingRecord? RefuseShape(Node root, ProblemList problems)
    {
        problems.Add(
            root.Origin,
            "",
            "A record is a list of keys, each with its value.",
            "Begin with a line such as: protocol: the protocol's name"
        );
        return null;
    }

    /// <summary>The same for a tree that was laid by hand, such as a row of a table.</summary>
    internal static SittingRecord Read(
        MapNode root,
        Protocol protocol,
        RecordOptions options,
        ProblemList problems
    )
    {
        var digest = RecordDigest.Of(root);
        var (merged, later) = LaterParts.Merge(root, problems);
        var corrected = new CorrectionApplier(protocol, problems).Apply(merged);
        var map = new MapReader(corrected, "", RecordKeys.Top, problems);
        var fingerprints = IdentityReader.Read(map, protocol, options, problems);
        var sitting = SittingReader.Read(map, protocol, problems);
        var fields = Fields(protocol.Program, sitting);
        var extras = new ExtrasReader(map, protocol, problems);
        var history = extras.History(fields);
        extras.Observations(fields, sitting.IsShortForm);
        new AnswerReader(protocol, sitting.IsShortForm, fields, problems).Read(
            ReadAnswers(map, protocol, problems),
            map.PlaceOf(RecordKeys.Answers)
        );
        var events = extras.Events();
        WelfareCheck.Run(
            protocol,
            fields,
            events,
            sitting.Seen.Count,
            map.PlaceOf(RecordKeys.Answers),
            problems
        );
        var help = new HelpReader(extras, protocol, problems);
        help.Read(fields);
        return new SittingRecord
        {
            Case = sitting.Case,
            Age = sitting.Age,
            SinceBirth = sitting.SinceBirth,
            GestationWeeks = sitting.GestationWeeks,
            Fingerprints = fingerprints,
            Digest = digest,
            Seen = sitting.Seen,
            IsShortForm = sitting.IsShortForm,
            Rater = sitting.Rater,
            AgreedFrom = RaterReader.Originals(map, problems),
            Later = later,
            Fields = fields,
            Help = help.Rungs,
            Aided = help.Aided,
            History = history,
            Consents = extras.Consents(),
            Notes = extras.Notes(),
            TaskSeconds = extras.TaskSeconds(),
            Override = extras.Override(),
            Events = events,
            Corrections = new CorrectionReader(map, problems).Read(sitting.Seen),
            Remarks = problems.Remarks,
        };
    }

    private static MapNode? ReadAnswers(MapReader map, Protocol protocol, ProblemList problems)
    {
        var example =
            protocol.Program.Answers.Count == 0 ? "task.rate: 2" : protocol.Program.Answers[0].Key + ": …";
        if (!map.Has(RecordKeys.Answers) && protocol.Program.Answers.Count > 0)
        {
            problems.Add(
                map.Origin,
                RecordKeys.Answers,
                "The record has no answers.",
                $"Add answers: and under it lines such as: {example}"
            );
        }

        return map.Map(RecordKeys.Answers, example);
    }

    /// <summary>Every field at its lowest, then what is known of the sitting.</summary>
    private static long[] Fields(ScoringProgram program, Sitting sitting)
    {
        var fields = program.Fields.Select(f => f.Low).ToArray();
        Put(program.AgeField, sitting.Age.Months);
        Put(program.FormField, sitting.IsShortForm ? 1 : 0);
        return fields;

        // An age beyond the field's bounds is beyond the protocol's ages too, and so stays outside them.
        void Put(int field, long value) =>
            fields[field] = Math.Clamp(value, program.Fields[field].Low, program.Fields[field].High);
    }
}
