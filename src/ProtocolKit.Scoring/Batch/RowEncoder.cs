using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// Reads rows of a table of records into columns of fields, by the rules of <see cref="RecordTable"/>. What is as it is in nearly
/// every row is read here at once; a row with anything else is handed to the reader of records, which alone says what is
/// wrong with it. Not for two threads at a time.
/// </summary>
public sealed class RowEncoder
{
    private readonly Protocol _protocol;
    private readonly ScoringProgram _program;
    private readonly IReadOnlyList<string> _columns;
    private readonly string _fileName;
    private readonly RecordOptions _options;
    private readonly CellKind[] _kinds;
    private readonly int[] _slots;
    private readonly AsideCells?[] _asides;
    private readonly AnswerCells[] _cells;
    private readonly TrialNeeds _needs;
    private readonly bool[] _given;
    private readonly long[] _fields;
    private readonly long[][] _one;
    private readonly long[][] _givenNow;
    private readonly BatchKernel _giving;
    private readonly int[] _givenLine;
    private readonly bool _isEasy;
    private readonly HashSet<string> _days = new(StringComparer.Ordinal);
    private readonly HashSet<string>.AlternateLookup<ReadOnlySpan<char>> _daySpans;

    /// <param name="columns">The names of the table's columns, each once, as <see cref="TableColumns"/> takes them.</param>
    /// <param name="fileName">How the table is called in messages.</param>
    public RowEncoder(
        Protocol protocol,
        IReadOnlyList<string> columns,
        string fileName,
        RecordOptions? options = null
    )
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(columns);
        (_protocol, _program, _columns, _fileName) = (protocol, protocol.Program, columns, fileName);
        _options = options ?? new RecordOptions();
        _daySpans = _days.GetAlternateLookup<ReadOnlySpan<char>>();
        (_kinds, _slots) = (new CellKind[columns.Count], new int[columns.Count]);
        _asides = [.. columns.Select(c => AsideCells.Of(protocol, c))];
        for (var i = 0; i < columns.Count; i++)
        {
            (_kinds[i], _slots[i]) = KindOf(columns[i]);
        }

        _cells = [.. _program.Answers.Select(a => new AnswerCells(a.Response))];
        _needs = new TrialNeeds(_program);
        _given = new bool[_program.Answers.Count];
        _fields = new long[_program.Fields.Count];
        _one = [.. _program.Fields.Select(_ => new long[1])];
        _givenLine = [.. _program.Answers.Select(GivenLine)];
        var lines = _givenLine.Where(l => l >= 0).Distinct().ToArray();
        _giving = BatchKernel.Compile(_program, lines);
        _givenNow = [.. lines.Select(_ => new long[1])];
        for (var i = 0; i < _givenLine.Length; i++)
        {
            _givenLine[i] = Array.IndexOf(lines, _givenLine[i]);
        }

        // Corrected ages and closing questions without a column are for the reader of records.
        _isEasy =
            protocol.CorrectedUntil is null
            && Has(CellKind.Protocol)
            && Has(CellKind.Edition)
            && Has(CellKind.Case)
            && Has(CellKind.Age)
            && Has(CellKind.Seen)
            && _program.History.All(h => columns.Contains($"{RecordKeys.History}.{h.Key}"));
    }

    private enum CellKind
    {
        Answer,
        Observation,
        Question,
        Protocol,
        Edition,
        Case,
        Age,
        Seen,
        Form,
        Rater,
        Other,
    }

    /// <summary>Reads one row.</summary>
    /// <param name="cells">As many as columns, without blanks around them.</param>
    /// <param name="line">The line of the file the row begins in, for messages.</param>
    /// <param name="fields">For each field of the program a column.</param>
    /// <param name="at">The place in those columns the row is laid into.</param>
    /// <returns>What is wrong with it; empty where it was laid.</returns>
    public IReadOnlyList<RecordProblem> Read(RowCells cells, int line, long[][] fields, int at)
    {
        ArgumentNullException.ThrowIfNull(cells);
        ArgumentNullException.ThrowIfNull(fields);
        IReadOnlyList<long> laid = _fields;
        if (!_isEasy || !TryRead(cells))
        {
            var texts = Enumerable.Range(0, _columns.Count).Select(i => cells(i).ToString()).ToList();
            var reading = RecordTable.ReadRow(_columns, texts, _fileName, line, _protocol, _options);
            if (reading.Record is not { } record)
            {
                return reading.Problems;
            }

            laid = record.Fields;
        }

        for (var f = 0; f < fields.Length; f++)
        {
            fields[f][at] = laid[f];
        }

        return [];
    }

    private bool TryRead(RowCells cells)
    {
        for (var f = 0; f < _fields.Length; f++)
        {
            _fields[f] = _program.Fields[f].Low;
        }

        foreach (var slot in _program.Answers)
        {
            _fields[slot.StateField] = (long)State.NotApplicable;
        }

        Array.Clear(_given);
        for (var i = 0; i < _kinds.Length; i++)
        {
            if (!TryRead(_kinds[i], _slots[i], cells(i)) && _asides[i]?.IsRight(cells(i)) != true)
            {
                return false;
            }
        }

        return TrySettle();
    }

    private bool TryRead(CellKind kind, int slot, ReadOnlySpan<char> text) =>
        kind switch
        {
            CellKind.Answer => text.IsEmpty || TryAnswer(slot, text),
            CellKind.Observation => TryWord(slot, text, RecordKeys.Looked, 1, RecordKeys.Seen, 2),
            CellKind.Question => TryQuestion(slot, text),
            CellKind.Protocol => text.SequenceEqual(_protocol.Name),
            CellKind.Edition => text.SequenceEqual(_protocol.Edition),
            CellKind.Case => IsCode(text),
            CellKind.Age => TryAge(text),
            CellKind.Seen => TryDay(text),
            CellKind.Form => TryForm(text),
            CellKind.Rater => text.IsEmpty || IsCode(text),
            _ => text.IsEmpty,
        };

    private bool TryAnswer(int slot, ReadOnlySpan<char> text)
    {
        if (_cells[slot].Read(text) is not { } read)
        {
            return false;
        }

        var answer = _program.Answers[slot];
        _given[slot] = true;
        _fields[answer.StateField] = (long)read.State;
        _fields[answer.ValueField] =
            read.State == State.Known ? read.Value : _program.Fields[answer.ValueField].Low;
        return true;
    }

    private bool TryWord(
        int field,
        ReadOnlySpan<char> text,
        string first,
        long firstValue,
        string second,
        long secondValue
    )
    {
        var value =
            text.SequenceEqual(first) ? firstValue
            : text.SequenceEqual(second) ? secondValue
            : 0;
        _fields[field] = value;
        return value > 0 || text.IsEmpty;
    }

    private bool TryQuestion(int slot, ReadOnlySpan<char> text)
    {
        var question = _program.History[slot];
        _fields[question.Field] = text.SequenceEqual(RecordKeys.Yes) ? 1 : 0;
        return text.SequenceEqual(RecordKeys.Yes)
            || text.SequenceEqual(RecordKeys.No)
            || (text.IsEmpty && !question.IsNeeded);
    }

    /// <summary>Ages the program has no field for are cut to its bounds, as the reader of records does.</summary>
    private bool TryAge(ReadOnlySpan<char> text)
    {
        var field = _program.Fields[_program.AgeField];
        if (
            text.Length > 3
            || !int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var months)
        )
        {
            return false;
        }

        _fields[_program.AgeField] = Math.Clamp(months, field.Low, field.High);
        return true;
    }

    private bool TryForm(ReadOnlySpan<char> text)
    {
        var isShort = text.SequenceEqual(RecordKeys.Short);
        _fields[_program.FormField] = isShort ? 1 : 0;
        return text.SequenceEqual(RecordKeys.Full) || (isShort && _protocol.HasShortForm);
    }

    private bool TryDay(ReadOnlySpan<char> text)
    {
        if (_daySpans.Contains(text))
        {
            return true;
        }

        if (
            !DateOnly.TryParseExact(
                text,
                "yyyy-MM-dd",
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out _
            )
        )
        {
            return false;
        }

        if (_days.Count < 20_000)
        {
            _days.Add(text.ToString());
        }

        return true;
    }

    /// <summary>What absent answers mean: false where one of them is missed, or may be.</summary>
    private bool TrySettle()
    {
        var isShort = _fields[_program.FormField] == 1;
        var mayBeMissing = false;
        for (var i = 0; i < _given.Length; i++)
        {
            var answer = _program.Answers[i];
            var isOff = isShort && !answer.Task.ShortForm;
            if (isOff)
            {
                // A task off the form may be called not planned; anything else there is told by the reader.
                if (_given[i] && (State)_fields[answer.StateField] != State.NotPlanned)
                {
                    return false;
                }

                Leave(answer);
                continue;
            }

            switch (_needs.Of(i, _given, _fields))
            {
                case TrialNeed.Needless:
                    Leave(answer);
                    break;
                case TrialNeed.Due when !_given[i]:
                    if (answer is { IsHelp: true, Trial: 1 })
                    {
                        _fields[answer.StateField] = (long)State.Known;
                        _fields[answer.ValueField] = answer.Response.Options.Count - 1;
                    }
                    else if (_givenLine[i] < 0)
                    {
                        return false;
                    }
                    else
                    {
                        mayBeMissing = true;
                    }

                    break;
            }
        }

        return !mayBeMissing || NothingIsMissing();
    }

    private bool NothingIsMissing()
    {
        for (var f = 0; f < _fields.Length; f++)
        {
            _one[f][0] = _fields[f];
        }

        _giving.Run(_one, 1, _givenNow);
        for (var i = 0; i < _given.Length; i++)
        {
            var isMissing =
                !_given[i]
                && _givenLine[i] >= 0
                && _givenNow[_givenLine[i]][0] == 1
                && _needs.Of(i, _given, _fields) == TrialNeed.Due;
            if (isMissing)
            {
                return false;
            }
        }

        return true;
    }

    private void Leave(AnswerSlot answer)
    {
        _fields[answer.StateField] = (long)State.NotApplicable;
        _fields[answer.ValueField] = _program.Fields[answer.ValueField].Low;
    }

    private static bool IsCode(ReadOnlySpan<char> text)
    {
        var hasDigit = false;
        foreach (var c in text)
        {
            hasDigit |= char.IsAsciiDigit(c);
            if (!char.IsAsciiLetterOrDigit(c) && c != '-')
            {
                return false;
            }
        }

        return hasDigit && text.Length <= NameGuard.LongestCode && text[0] != '-';
    }

    private bool Has(CellKind kind) => _kinds.Contains(kind);

    private int GivenLine(AnswerSlot answer) =>
        _program
            .Giving.FirstOrDefault(g =>
                g.Task.Name == answer.Task.Name && g.Variant.Name == answer.Variant.Name
            )
            ?.GivenLine
        ?? -1;

    private (CellKind, int) KindOf(string column)
    {
        for (var i = 0; i < _program.Answers.Count; i++)
        {
            if (_program.Answers[i].Key == column)
            {
                // About help a table speaks under help, and the reader of records puts it together.
                return _program.Answers[i].IsHelp ? (CellKind.Other, 0) : (CellKind.Answer, i);
            }
        }

        if (
            _program.Observations.FirstOrDefault(o => $"{RecordKeys.Observations}.{o.Key}" == column) is
            { } seen
        )
        {
            return (CellKind.Observation, seen.Field);
        }

        for (var i = 0; i < _program.History.Count; i++)
        {
            if ($"{RecordKeys.History}.{_program.History[i].Key}" == column)
            {
                return (CellKind.Question, i);
            }
        }

        return column switch
        {
            RecordKeys.Protocol => (CellKind.Protocol, 0),
            RecordKeys.Edition => (CellKind.Edition, 0),
            RecordKeys.Case => (CellKind.Case, 0),
            RecordKeys.AgeMonths => (CellKind.Age, 0),
            RecordKeys.Seen => (CellKind.Seen, 0),
            RecordKeys.Form => (CellKind.Form, 0),
            RecordKeys.Rater => (CellKind.Rater, 0),
            _ => (CellKind.Other, 0),
        };
    }
}
