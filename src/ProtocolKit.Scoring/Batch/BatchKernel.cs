using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// A scoring program compiled for columns: one array of whole numbers a field, a place in each a record. It gives what
/// <see cref="Evaluator"/> gives, for many records at once. Only lines that the wanted ones rest on are worked out.
/// </summary>
public sealed class BatchKernel
{
    /// <summary>Records in one go: the lines of so many stay close to the processor.</summary>
    private const int Span = 256;

    private readonly Chunk[] _chunks;
    private readonly long[][] _tables;
    private readonly int[] _wanted;
    private readonly long[][] _lines;

    private BatchKernel(
        IReadOnlyList<int> needed,
        Chunk[] chunks,
        long[][] tables,
        int[] wanted,
        long[][] lines
    ) => (Lines, _chunks, _tables, _wanted, _lines) = (needed, chunks, tables, wanted, lines);

    /// <summary>The lines it works out, each after those it reads.</summary>
    public IReadOnlyList<int> Lines { get; }

    /// <summary>Works some lines out for records from <paramref name="start"/> on.</summary>
    internal delegate void Chunk(long[][] fields, long[][] lines, long[][] tables, int start, int count);

    /// <param name="program">A checked program.</param>
    /// <param name="wanted">Lines whose values are given, by their index.</param>
    public static BatchKernel Compile(ScoringProgram program, IReadOnlyList<int> wanted)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(wanted);
        var compiler = new KernelCompiler(program, wanted);
        var lines = new long[program.Lines.Count][];
        foreach (var line in compiler.Stored)
        {
            lines[line] = new long[Span];
        }

        return new BatchKernel(compiler.Needed, [.. compiler.Chunks()], compiler.Tables, [.. wanted], lines);
    }

    /// <summary>
    /// Gives each wanted line its value for <paramref name="count"/> records; a condition is 0 or 1. Not for two threads at a time.
    /// </summary>
    /// <param name="fields">For each field of the program a column, values within the field's bounds.</param>
    /// <param name="results">For each wanted line a column, as long as those.</param>
    public void Run(long[][] fields, int count, long[][] results)
    {
        ArgumentNullException.ThrowIfNull(results);
        for (var start = 0; start < count; start += Span)
        {
            var here = Math.Min(Span, count - start);
            foreach (var chunk in _chunks)
            {
                chunk(fields, _lines, _tables, start, here);
            }

            for (var i = 0; i < _wanted.Length; i++)
            {
                Array.Copy(_lines[_wanted[i]], 0, results[i], start, here);
            }
        }
    }
}
