using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Workspace.Studies;

/// <summary>Collects records row by row, scores them, numbers a child's sittings and finds doubles.</summary>
internal sealed class StudyRows(Protocol protocol, RecordOptions options)
{
    private readonly List<StudySitting> _sittings = [];
    private readonly List<LeftOutRecord> _leftOut = [];
    private readonly List<string> _remarks = [];
    private int _agreed;

    public void Remark(string text) => _remarks.Add(text);

    public void AddFile(string name, string text)
    {
        var reading = RecordReader.Read(text, name, protocol, options);
        Add(reading, new Origin(name, 0, 0, 0), new Dictionary<string, string>());
    }

    public void AddRow(CsvTable table, int number, IReadOnlyList<string> cells)
    {
        var own = Enumerable
            .Range(0, table.Columns.Count)
            .Where(i => !JudgementColumns.IsOne(table.Columns[i]));
        var reading = RecordTable.ReadRow(
            [.. own.Select(i => table.Columns[i])],
            [.. own.Select(i => cells[i])],
            table.Name,
            number,
            protocol,
            options
        );
        var besides = Enumerable
            .Range(0, table.Columns.Count)
            .Where(i => JudgementColumns.IsOne(table.Columns[i]))
            .ToDictionary(i => table.Columns[i], i => cells[i], StringComparer.Ordinal);
        Add(reading, new Origin(table.Name, number, 0, 0), besides);
    }

    /// <summary>Takes judgements and groups from a table with a row a child.</summary>
    /// <exception cref="StudyDataException">The table has no column <c>case</c>, unknown columns, or a child twice.</exception>
    public void AddReference(CsvTable table)
    {
        var at = table.Columns.ToList().IndexOf(RecordKeys.Case);
        var unknown = table.Columns.Where(c => c != RecordKeys.Case && !JudgementColumns.IsOne(c)).ToList();
        if (at < 0 || unknown.Count > 0)
        {
            throw new StudyDataException(
                at < 0
                    ? $"{table.Name} has no column case, so nobody knows whose judgements these are."
                    : $"{table.Name} has columns no study reads: {string.Join(", ", unknown)}. It takes case and {string.Join(", ", JudgementColumns.All)}."
            );
        }

        var twice = table.Rows.GroupBy(r => r.Cells[at]).FirstOrDefault(g => g.Count() > 1);
        if (twice is not null)
        {
            throw new StudyDataException(
                $"{table.Name} judges {twice.Key} twice, in rows {string.Join(" and ", twice.Select(r => r.Number))}. Keep the one that stands."
            );
        }

        var byCase = table.Rows.ToDictionary(r => r.Cells[at], r => r, StringComparer.Ordinal);
        for (var i = 0; i < _sittings.Count; i++)
        {
            if (byCase.TryGetValue(_sittings[i].Case, out var row))
            {
                var cells = Enumerable
                    .Range(0, table.Columns.Count)
                    .Where(c => c != at)
                    .ToDictionary(c => table.Columns[c], c => row.Cells[c], StringComparer.Ordinal);
                var faults = new List<string>();
                _sittings[i] = With(_sittings[i], cells, faults);
                _leftOut.AddRange(
                    faults.Select(f => new LeftOutRecord(new Origin(table.Name, row.Number, 0, 0), f))
                );
            }
        }
    }

    public StudyData Finish(string source)
    {
        TellAgreed();
        TakeOutDoubles();
        NumberSittings();
        if (_sittings.Count == 0)
        {
            throw new StudyDataException(
                string.Join(
                    '\n',
                    _remarks.Concat(_leftOut.Take(20).Select(l => $"{Place(l.Place)}: {l.Why}"))
                ) + $"\nNo record of {source} could be taken, so there is nothing to study."
            );
        }

        return new StudyData(protocol, source, _sittings, _leftOut, _remarks);
    }

    internal static string Place(Origin place) =>
        place.Line == 0
            ? place.File
            : string.Create(CultureInfo.InvariantCulture, $"{place.File}, row {place.Line}");

    private void Add(RecordReading reading, Origin place, IReadOnlyDictionary<string, string> besides)
    {
        var faults = reading.Problems.Select(p => $"{p.Message} {p.Mend}").ToList();
        if (reading.Record is { AgreedFrom.Count: > 0 })
        {
            _agreed++;
        }
        else if (reading.Record is { } record)
        {
            var sitting = new StudySitting
            {
                Scored = Scorer.Score(protocol, record),
                Case = record.Case,
                Seen = record.Seen[0],
                Number = 1,
                Rater = record.Rater?.Code ?? "",
                Place = place,
            };
            sitting = With(sitting, besides, faults);
            if (faults.Count == 0)
            {
                _sittings.Add(sitting);
            }
        }

        _leftOut.AddRange(faults.Select(f => new LeftOutRecord(place, f)));
    }

    private static StudySitting With(
        StudySitting sitting,
        IReadOnlyDictionary<string, string> cells,
        List<string> faults
    ) =>
        sitting with
        {
            Reference = JudgementColumns.Judgement(cells, faults),
            Groups = cells
                .Where(c => JudgementColumns.Groups.Contains(c.Key) && c.Value.Length > 0)
                .ToDictionary(c => c.Key, c => c.Value, StringComparer.Ordinal),
            Minutes = JudgementColumns.Number(cells, JudgementColumns.Minutes, faults),
        };

    /// <summary>Records made by talking are no evidence of what either rater writes alone.</summary>
    private void TellAgreed()
    {
        if (_agreed > 0)
        {
            var records =
                _agreed == 1
                    ? "1 record that raters agreed on was"
                    : $"{_agreed} records that raters agreed on were";
            Remark($"{records} not taken: a study rests on what each rater wrote alone.");
        }
    }

    /// <summary>The same child, day and examiner twice: nobody knows which is right, so neither is taken.</summary>
    private void TakeOutDoubles()
    {
        foreach (
            var same in _sittings
                .GroupBy(s => (s.Case, s.Seen, s.Rater))
                .Where(g => g.Count() > 1)
                .Select(g => g.ToList())
                .ToList()
        )
        {
            var places = string.Join(" and ", same.Select(s => Place(s.Place)));
            var day = same[0].Seen.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
            var by = same[0].Rater.Length == 0 ? "by an unnamed rater" : $"by {same[0].Rater}";
            _leftOut.Add(
                new LeftOutRecord(
                    same[0].Place,
                    $"The sitting of {same[0].Case} on {day} {by} stands here more than once ({places}). "
                        + "None of them was taken: keep the one that is right."
                )
            );
            _sittings.RemoveAll(same.Contains);
        }
    }

    private void NumberSittings()
    {
        var days = _sittings
            .GroupBy(s => s.Case)
            .ToDictionary(
                g => g.Key,
                g => g.Select(s => s.Seen).Distinct().Order().ToList(),
                StringComparer.Ordinal
            );
        for (var i = 0; i < _sittings.Count; i++)
        {
            _sittings[i] = _sittings[i] with
            {
                Number = days[_sittings[i].Case].IndexOf(_sittings[i].Seen) + 1,
            };
        }
    }
}
