using ProtocolKit.Model;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>One sheet whose answers are changed one after another, always canonical, with its lines kept up to date.</summary>
internal sealed class TriedSheet
{
    private readonly ScoringProgram _program;
    private readonly RecordSpace _space;
    private readonly long[] _flawless;

    /// <summary>As answered, before routing leaves anything out.</summary>
    private readonly long[] _answered;
    private readonly RunningLines _lines;

    /// <param name="kept">Answers that stand from the start as on a sheet that is known; null: none.</param>
    public TriedSheet(
        ScoringProgram program,
        RecordSpace space,
        Age age,
        (IReadOnlyList<Leaf> Leaves, long[] Fields)? kept = null
    )
    {
        (_program, _space) = (program, space);
        _flawless = (long[])space.Baseline.Clone();
        _flawless[program.AgeField] = age.Months;
        foreach (var leaf in space.Leaves.Where(l => l.IsFurther))
        {
            // There if it is due; settled to blank where it is needless.
            _flawless[leaf.ValueField] = leaf.Order > 0 ? leaf.High : leaf.Low;
            _flawless[leaf.StateField] = 0;
        }

        if (kept is var (leaves, fields))
        {
            foreach (
                var field in leaves.SelectMany(l => new[] { l.ValueField, l.StateField }).Where(f => f >= 0)
            )
            {
                _flawless[field] = fields[field];
            }
        }

        _answered = (long[])_flawless.Clone();
        Fields = (long[])_flawless.Clone();
        _lines = new RunningLines(program, Fields, program.Lines.Count);
        Settle();
    }

    public long[] Fields { get; }

    /// <summary>As answered, though routing may leave it out.</summary>
    public long Answered(Leaf leaf) => _answered[leaf.ValueField];

    public long Line(int line) => _lines[line];

    /// <summary>Everything as it was at the start.</summary>
    public void Clear()
    {
        Array.Copy(_flawless, _answered, _flawless.Length);
        Settle();
    }

    public static long Worst(Leaf leaf) => leaf.Order > 0 ? leaf.Low : leaf.High;

    public void Answer(Leaf leaf, long value)
    {
        _answered[leaf.ValueField] = value;
        Settle();
    }

    /// <summary>The worst value for which no task is left out; the one it has where there is none.</summary>
    public void AnswerWorst(Leaf leaf)
    {
        const int MostSteps = 3;
        var (given, before) = (Given(), _answered[leaf.ValueField]);
        for (var step = 0; step < MostSteps && step <= leaf.High - leaf.Low; step++)
        {
            Answer(leaf, Worst(leaf) + (step * leaf.Order));
            if (Given() >= given)
            {
                return;
            }
        }

        Answer(leaf, before);
    }

    /// <summary>Turns an answer of a sheet into a refused one; what routing asks for besides is not planned.</summary>
    public void Refuse(long[] fields, Leaf leaf, RecordSpace second)
    {
        for (var i = 0; i < fields.Length; i++)
        {
            _lines.Set(i, fields[i]);
        }

        _lines.Set(leaf.StateField, (long)State.Refused);
        _lines.Set(leaf.ValueField, leaf.Low);
        second.Settle(_lines, Fields, f => f != leaf.ValueField && f != _program.AgeField, State.NotPlanned);
    }

    private int Given() => _program.Giving.Count(g => _lines[g.GivenLine] != 0);

    private void Settle()
    {
        for (var i = 0; i < _answered.Length; i++)
        {
            _lines.Set(i, _answered[i]);
        }

        _space.Settle(_lines, Fields, f => f != _program.AgeField);
    }
}
