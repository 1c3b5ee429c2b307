using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// Writes a program as loops over records, some lines a loop: one loop for all is more than a just-in-time compiler
/// takes in at once. What a later loop reads, and what is wanted, is stored; the rest stays in the processor.
/// </summary>
internal sealed class KernelCompiler
{
    private const int LinesInOneLoop = 80;

    private readonly ScoringProgram _program;
    private readonly List<int> _needed;
    private readonly List<long[]> _tables = [];
    private readonly Dictionary<Pick, int> _tableOf = new(ReferenceEqualityComparer.Instance);

    public KernelCompiler(ScoringProgram program, IReadOnlyList<int> wanted)
    {
        _program = program;
        var needed = new SortedSet<int>();
        var rest = new Stack<int>(wanted);
        while (rest.TryPop(out var line))
        {
            if (needed.Add(line))
            {
                LinesIn(line).ToList().ForEach(rest.Push);
            }
        }

        _needed = [.. needed];
        var loopOf = _needed.Select((l, i) => (l, i / LinesInOneLoop)).ToDictionary(x => x.l, x => x.Item2);
        Stored = _needed
            .SelectMany(l => LinesIn(l).Where(r => loopOf[r] != loopOf[l]))
            .Concat(wanted)
            .ToHashSet();
    }

    /// <summary>Lines that the wanted ones rest on, each after those it reads.</summary>
    public IReadOnlyList<int> Needed => _needed;

    /// <summary>Lines that get a column.</summary>
    public IReadOnlySet<int> Stored { get; }

    /// <summary>Tables of values, by number; complete once all loops are written.</summary>
    public long[][] Tables => [.. _tables];

    public IReadOnlyList<BatchKernel.Chunk> Chunks() =>
        [.. _needed.Chunk(LinesInOneLoop).Select(lines => new KernelLoop(this, _program, lines).Compile())];

    /// <summary>The values of a lookup's subject from its lowest on, as a table.</summary>
    public int TableOf(Pick pick)
    {
        if (!_tableOf.TryGetValue(pick, out var number))
        {
            number = _tables.Count;
            _tableOf.Add(pick, number);
            var table = new long[pick.Subject.High - pick.Subject.Low + 1];
            foreach (var one in pick.Cases)
            {
                for (
                    var s = Math.Max(one.From, pick.Subject.Low);
                    s <= Math.Min(one.To, pick.Subject.High);
                    s++
                )
                {
                    table[s - pick.Subject.Low] = one.Value;
                }
            }

            _tables.Add(table);
        }

        return number;
    }

    private IEnumerable<int> LinesIn(int line)
    {
        var rest = new Stack<object?>([_program.Lines[line].Value, _program.Lines[line].Condition]);
        while (rest.TryPop(out var part))
        {
            switch (part)
            {
                case LineValue l:
                    yield return l.Line;
                    break;
                case LineCondition l:
                    yield return l.Line;
                    break;
                default:
                    foreach (var inner in ExpressionParts.Of(part))
                    {
                        rest.Push(inner);
                    }

                    break;
            }
        }
    }
}
