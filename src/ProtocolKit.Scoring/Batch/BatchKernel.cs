using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// A scoring program compiled for columns: one array of whole numbers a field, a place in each a record. It gives what
/// <see cref="Evaluator"/> gives, for many records at once. Only lines that the wanted ones rest on are worked out.
/// </summary>
public sealed class BatchKernel
{
    /// <summary>Records in one go, a multiple of all lanes there are: the lines of so many stay close to the processor.</summary>
    private const int Span = 128;

    private readonly Chunk[] _chunks;
    private readonly long[][] _tables;
    private readonly int[] _wanted;
    private readonly long[][] _lines;

    /// <summary>The fields of a last few records, filled up to as many as there are lanes.</summary>
    private readonly long[][] _few;
    private readonly int[] _read;

    private BatchKernel(KernelCompiler compiler, int[] wanted, long[][] lines, long[][] few)
    {
        (Lines, _read) = (compiler.Needed, [.. compiler.Fields]);
        (_wanted, _lines, _few) = (wanted, lines, few);
        foreach (var field in _read)
        {
            few[field] = new long[Lanes.Count];
        }

        // Tables are made while loops are written.
        _chunks = [.. compiler.Chunks()];
        _tables = compiler.Tables;
    }

    /// <summary>The lines it works out, each after those it reads.</summary>
    public IReadOnlyList<int> Lines { get; }

    /// <summary>Works some lines out for records from <paramref name="start"/> on, as many as lanes at a time.</summary>
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

        return new BatchKernel(compiler, [.. wanted], lines, new long[program.Fields.Count][]);
    }

    /// <summary>
    /// Gives each wanted line its value for <paramref name="count"/> records; a condition is 0 or 1. Not for two threads at a time.
    /// </summary>
    /// <param name="fields">For each field of the program a column, values within the field's bounds.</param>
    /// <param name="results">For each wanted line a column, as long as those.</param>
    /// <exception cref="ArgumentException">A column is shorter than <paramref name="count"/>.</exception>
    public void Run(long[][] fields, int count, long[][] results)
    {
        ArgumentNullException.ThrowIfNull(fields);
        ArgumentNullException.ThrowIfNull(results);
        if (_read.Any(f => fields[f].Length < count))
        {
            // Several places are read at once, and nothing looks where a column ends.
            throw new ArgumentException($"A column is shorter than {count} records.", nameof(fields));
        }

        var whole = count - count % Lanes.Count;
        for (var start = 0; start < whole; start += Span)
        {
            var here = Math.Min(Span, whole - start);
            Run(fields, start, here);
            Give(results, start, here);
        }

        if (whole < count)
        {
            foreach (var field in _read)
            {
                // The rest of the lanes get the last record again: a number out of bounds might stand for nothing.
                var few = _few[field];
                Array.Fill(few, fields[field][count - 1]);
                Array.Copy(fields[field], whole, few, 0, count - whole);
            }

            Run(_few, 0, Lanes.Count);
            Give(results, whole, count - whole);
        }
    }

    private void Run(long[][] fields, int start, int count)
    {
        foreach (var chunk in _chunks)
        {
            chunk(fields, _lines, _tables, start, count);
        }
    }

    private void Give(long[][] results, int start, int count)
    {
        for (var i = 0; i < _wanted.Length; i++)
        {
            Array.Copy(_lines[_wanted[i]], 0, results[i], start, count);
        }
    }
}
