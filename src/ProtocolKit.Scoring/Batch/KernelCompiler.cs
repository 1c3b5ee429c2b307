using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// Writes a program as loops over records, some lines a loop: one loop for all is more than a just-in-time compiler
/// takes in at once. What a later loop reads, and what is wanted, is stored; the rest stays in the processor.
/// </summary>
internal sealed class KernelCompiler
{
    /// <summary>No table is longer.</summary>
    public const long LargestTable = 4096;

    /// <summary>Parts of expressions in one loop: beyond some thousands a just-in-time compiler no longer takes care.</summary>
    private const int PartsInOneLoop = 500;

    private readonly ScoringProgram _program;
    private readonly List<int> _needed;
    private readonly List<List<int>> _loops;
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
        _loops = [.. Loops()];
        var loopOf = _loops
            .SelectMany((lines, i) => lines.Select(l => (l, i)))
            .ToDictionary(x => x.l, x => x.i);
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
        [.. _loops.Select(lines => new KernelLoop(this, _program, lines).Compile())];

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

    /// <summary>Fields that those lines read.</summary>
    public IReadOnlyList<int> Fields =>
        [.. _needed.SelectMany(PartsOf).OfType<FieldValue>().Select(f => f.Field).Distinct().Order()];

    private IEnumerable<List<int>> Loops()
    {
        var (loop, parts) = (new List<int>(), 0);
        foreach (var line in _needed)
        {
            var more = PartsOf(line).Count();
            if (loop.Count > 0 && parts + more > PartsInOneLoop)
            {
                yield return loop;
                (loop, parts) = ([], 0);
            }

            loop.Add(line);
            parts += more;
        }

        if (loop.Count > 0)
        {
            yield return loop;
        }
    }

    private IEnumerable<int> LinesIn(int line) =>
        PartsOf(line)
            .Select(p =>
                p switch
                {
                    LineValue l => l.Line,
                    LineCondition l => l.Line,
                    _ => -1,
                }
            )
            .Where(l => l >= 0);

    private IEnumerable<object> PartsOf(int line)
    {
        var rest = new Stack<object?>([_program.Lines[line].Value, _program.Lines[line].Condition]);
        while (rest.TryPop(out var part))
        {
            if (part is not null)
            {
                yield return part;
                foreach (var inner in ExpressionParts.Of(part))
                {
                    rest.Push(inner);
                }
            }
        }
    }
}
