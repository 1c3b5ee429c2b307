using System.Globalization;
using System.Text;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.PilotGenerator;

/// <param name="Cells">By column; what is missing is blank.</param>
public sealed record PilotRow(
    Child Child,
    int Sitting,
    SittingRecord Record,
    IReadOnlyDictionary<string, string> Cells
);

/// <summary>Draws the invented children of a truth and lets the invented examiners fill their sheets.</summary>
public sealed class Pilot(Truth truth, Protocol protocol)
{
    private static readonly Dictionary<string, int> Nothing = [];
    private readonly UntriedParts _untried = new(truth, protocol);
    private readonly TaskTimes _times = new(truth, protocol);

    /// <summary>The pilot itself: every child once, some by a second examiner, some again weeks later.</summary>
    public IEnumerable<PilotRow> Rows()
    {
        var children = Enumerable
            .Range(0, truth.Children)
            .Select(i => new Child(truth, truth.Seed, i))
            .ToList();
        foreach (var child in children)
        {
            yield return Row(child, 1, 0);
            if (child.IsDoubleRated)
            {
                yield return Row(child, 1, 1);
            }
        }

        foreach (var child in children.Where(c => c.IsReTested))
        {
            yield return Row(child, 2, 0);
        }
    }

    /// <summary>One child's sitting by one examiner.</summary>
    /// <param name="sitting">1 the first, 2 the re-test.</param>
    public PilotRow Row(Child child, int sitting, int examiner)
    {
        var day = sitting == 1 ? child.Seen : child.ReTested;
        var rater = truth.Raters[examiner];
        var behaviour = new Behaviour(truth, child, day, sitting);
        var sheet = new Examiner(truth, protocol, rater, examiner > 0);
        var age = child.AgeAt(day);
        var fields = Fields(child, behaviour, sheet, sitting, examiner, age);
        var help = sheet.HelpOf(child, behaviour, fields, sitting);
        var record = new SittingRecord
        {
            Case = child.Case,
            Age = age,
            Seen = [day],
            IsShortForm = false,
            Rater = new Rater(rater.Code),
            Fields = fields,
            Help = help,
            Aided = new CostedHelp(protocol).Settle(fields, help),
            TaskSeconds =
                examiner == 0 ? _times.Of(child, fields, help, sitting, Minutes(child, sitting)) : Nothing,
        };
        var cells = new Dictionary<string, string>(
            RecordTable.CellsOf(protocol, record),
            StringComparer.Ordinal
        );
        AddJudgement(cells, child, sitting);
        return new PilotRow(child, sitting, record, cells);
    }

    /// <summary>A table of rows, columns in a fixed order; columns nothing stands in are left out.</summary>
    public static string Table(Protocol protocol, IReadOnlyList<PilotRow> rows)
    {
        var first = RecordTable
            .SittingColumns.Concat(JudgementColumns)
            .Concat(protocol.Program.Answers.Select(a => a.Key));
        var rest = rows.SelectMany(r => r.Cells.Keys).Distinct().Except(first).Order(StringComparer.Ordinal);
        var columns = first
            .Concat(rest)
            .Where(c => rows.Any(r => r.Cells.GetValueOrDefault(c, "").Length > 0))
            .ToList();
        var text = new StringBuilder().AppendJoin(',', columns).Append('\n');
        foreach (var row in rows)
        {
            text.AppendJoin(',', columns.Select(c => row.Cells.GetValueOrDefault(c, ""))).Append('\n');
        }

        return text.ToString();
    }

    private static IReadOnlyList<string> JudgementColumns { get; } =
    ["sex", "minutes", "reference", "reference-blind", "reference-by", "borderline"];

    /// <summary>Of the whole sitting.</summary>
    private static double Minutes(Child child, int sitting)
    {
        var dice = child.Roll("minutes", sitting.ToString(CultureInfo.InvariantCulture));
        return Math.Round(37 + dice.Normal(4) - (child.IsCase ? -2 : 0));
    }

    private static void AddJudgement(Dictionary<string, string> cells, Child child, int sitting)
    {
        cells["sex"] = child.Sex;
        cells["minutes"] = Minutes(child, sitting).ToString(CultureInfo.InvariantCulture);
        if (sitting > 1)
        {
            return;
        }

        cells["reference"] = child.IsReferenceCase ? "case" : "no-case";
        cells["reference-blind"] = "yes";
        cells["reference-by"] = "REF-01";
        cells["borderline"] = child.IsBorderline ? "yes" : "no";
    }

    private long[] Fields(
        Child child,
        Behaviour behaviour,
        Examiner sheet,
        int sitting,
        int examiner,
        Age age
    )
    {
        var program = protocol.Program;
        var fields = program.Fields.Select(f => f.Low).ToArray();
        fields[program.AgeField] = age.Months;
        var untried = _untried.Of(child, sitting, age.Months);
        var examinerFields = examiner == 0 ? null : Row(child, sitting, 0).Record.Fields;
        foreach (var slot in program.Answers)
        {
            var part = (slot.Task.Name, slot.Variant.Name);
            if (untried.TryGetValue(part, out var code))
            {
                var isFurther = slot.Task.Trials.FurtherWhen is not null && slot.Trial > 1;
                var written = examiner == 0 ? code : _untried.Second(child, part.Item1, part.Item2, code);
                fields[slot.StateField] = (long)(isFurther ? State.NotApplicable : written);
            }
            else if (
                examinerFields is not null
                && examinerFields[slot.StateField] == (long)State.NotApplicable
            )
            {
                // The examiner gave no second trial; who watches can't rate one.
                fields[slot.StateField] = (long)State.NotPlanned;
            }
            else
            {
                sheet.Fill(fields, slot, behaviour, sitting);
            }
        }

        Look(child, fields, sitting);
        return ProtocolKit.Testing.Records.Settle(protocol, fields);
    }

    /// <summary>Observations that scores read: nearly always looked for, seen more often in children who need help.</summary>
    private void Look(Child child, long[] fields, int sitting)
    {
        var scored = protocol
            .Program.Observations.Where(o => !o.Observation.Qualitative)
            .Where(o => !o.Task.Ticks.Single(t => t.Observation.Name == o.Observation.Name).Qualitative);
        foreach (var slot in scored)
        {
            var lasting = child.Roll("sign", slot.Key);
            var isSeen = lasting.Chance(child.IsCase ? 0.05 : 0.004);
            var looked = child
                .Roll("looked", slot.Key, sitting.ToString(CultureInfo.InvariantCulture))
                .Chance(0.995);
            fields[slot.Field] =
                !looked ? 0
                : isSeen ? 2
                : 1;
        }
    }
}
