using System.Globalization;
using ProtocolKit.Benchmarks.Batch.Example;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Scoring.Batch;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Batch;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>
/// Tables of many rows beside other ways to score them, in one run on the same data. Ratios are of processor time, and each
/// comparison first makes sure that both sides say the same.
/// </summary>
internal static class BatchSpeed
{
    private const string Example = "library/quillmere/quillmere-screen.protocol";
    private const string Starter = "src/ProtocolKit.Cli/Starter/starter.protocol";
    private const int Runs = 3;

    /// <param name="rows">Rows of the example; the starter has twice as many.</param>
    /// <param name="which">Parts to run: loop, columns, formulas, files; all where empty.</param>
    public static bool Print(TextWriter output, int rows, IReadOnlyList<string> which)
    {
        bool Is(string part) => which.Count == 0 || which.Contains(part);
        var isFine = true;
        if (Is("loop"))
        {
            isFine &= PrintLoop(output, Open(Starter), rows * 2);
        }

        var example = Open(Example);
        var data = new BatchData(example);
        if (Is("loop") || Is("columns") || Is("formulas"))
        {
            // So many columns fill some gigabytes: all comparisons read the same ones.
            var fields = data.Fields(rows);
            isFine &= !Is("loop") || PrintExampleLoop(output, example, fields, rows);
            isFine &= !Is("columns") || PrintColumns(output, example, fields, rows);
            isFine &= !Is("formulas") || PrintFormulas(output, example, fields, rows);
        }

        GC.Collect();
        return (!Is("files") || PrintFiles(output, example, data, rows)) && isFine;
    }

    private static bool PrintLoop(TextWriter output, Protocol protocol, int rows)
    {
        var program = protocol.Program;
        int[] wanted = [.. StarterLoop.Lines.Select(n => program.Lines.ToList().FindIndex(l => l.Name == n))];
        var fields = new BatchData(protocol).Fields(rows);
        var kernel = BatchKernel.Compile(program, wanted);
        var (ours, theirs) = (Columns(wanted.Length, rows), Columns(wanted.Length, rows));
        var (first, second) = Measured.InTurn(
            Runs,
            () => kernel.Run(fields, rows, ours),
            () => StarterLoop.Run(fields, rows, theirs)
        );
        for (var i = 0; i < wanted.Length; i++)
        {
            Require(ours[i].AsSpan().SequenceEqual(theirs[i]), StarterLoop.Lines[i]);
        }

        return Tell(
            output,
            $"kernel to a hand-written loop, {protocol.Name}",
            rows,
            first,
            second,
            most: 1.3
        );
    }

    private static bool PrintExampleLoop(TextWriter output, Protocol protocol, long[][] fields, int rows)
    {
        var program = protocol.Program;
        var wanted = WantedLines.Of(program);
        var kernel = BatchKernel.Compile(program, wanted);
        var (ours, theirs) = (Columns(wanted.Count, rows), Columns(wanted.Count, rows));
        var loop = new ExampleLoop(program, wanted, fields, rows, theirs);
        var (first, second) = Measured.InTurn(Runs, () => kernel.Run(fields, rows, ours), loop.Run);
        var difference = WantedLines.Difference(program, wanted, rows, ours, theirs);
        Require(difference is null, difference ?? "");
        return Tell(
            output,
            $"kernel to a hand-written loop, {protocol.Name}",
            rows,
            first,
            second,
            most: 1.3
        );
    }

    private static bool PrintColumns(TextWriter output, Protocol protocol, long[][] fields, int rows)
    {
        var wanted = WantedLines.Of(protocol.Program);
        var kernel = BatchKernel.Compile(protocol.Program, wanted);
        var ours = Columns(wanted.Count, rows);
        using var duckDb = new DuckDbSide();
        duckDb.Load(fields, rows);
        var query = $"create or replace temp table lines as {DuckDbSide.OfFields(protocol, wanted)}";
        var (first, second) = Measured.InTurn(
            Runs,
            () => kernel.Run(fields, rows, ours),
            () => duckDb.Run(query)
        );
        var theirs = duckDb.First("lines", Math.Min(rows, 1000));
        Require(
            theirs.Select((r, i) => r.SequenceEqual(ours.Select(c => c[i]))).All(same => same),
            "DuckDB's lines"
        );
        return Tell(output, "DuckDB's lines to the kernel, same columns", rows, second, first, least: 3);
    }

    /// <summary>Each side once: NCalc takes some twenty minutes for a million rows.</summary>
    private static bool PrintFormulas(TextWriter output, Protocol protocol, long[][] fields, int rows)
    {
        var program = protocol.Program;
        var wanted = WantedLines.Of(program);
        var kernel = BatchKernel.Compile(program, wanted);
        var formulas = new NCalcLines(program, kernel.Lines);
        var ours = Columns(wanted.Count, rows);
        kernel.Run(fields, rows, ours);
        var first = Measured.Of(() => kernel.Run(fields, rows, ours));
        var same = true;
        var second = Measured.Of(() =>
        {
            for (var row = 0; row < rows; row++)
            {
                var theirs = formulas.Run(fields, row);
                same &= row > 1000 || wanted.Select((l, i) => theirs[l] == ours[i][row]).All(s => s);
            }
        });
        Require(same, "NCalc's formulas");
        return Tell(
            output,
            $"NCalc's {kernel.Lines.Count} formulas to the kernel",
            rows,
            second,
            first,
            least: 100
        );
    }

    private static bool PrintFiles(TextWriter output, Protocol protocol, BatchData data, int rows)
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-batch-").FullName;
        try
        {
            var table = Path.Combine(folder, "table.csv");
            var results = Path.Combine(folder, "results.csv");
            data.Write(table, rows);
            var options = new RecordOptions();
            var scored = 0L;
            var ours = Measured.Of(() =>
                scored = TableScoring
                    .Score(protocol, table, results, results + ".errors.csv", options, null, default)
                    .Scored
            );
            Require(scored == rows, "rows scored");
            using var duckDb = new DuckDbSide();
            duckDb.Run($"create view records as from read_csv('{table}', all_varchar = true)");
            var copy =
                $"copy ({DuckDbSide.Emitted(protocol)}) to '{Path.Combine(folder, "duckdb.csv")}' (header, delim ',')";
            var theirs = Measured.Of(() => duckDb.Run(copy));
            return Tell(output, "CSV to scored CSV: DuckDB to score", rows, theirs, ours, least: 1);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static bool Tell(
        TextWriter output,
        string what,
        int rows,
        Measured first,
        Measured second,
        double? most = null,
        double? least = null
    )
    {
        var ratio = first.Processor / second.Processor;
        var target = most is { } m ? $"at most {m:F1}" : $"at least {least:F0}";
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{what}: ratio {ratio:F2} ({target}); {rows} rows, processor {first.Processor:F2} s and {second.Processor:F2} s, clock {first.Wall:F2} s and {second.Wall:F2} s"
            )
        );
        return most is { } limit ? ratio <= limit : ratio >= least;
    }

    private static void Require(bool isSame, string what)
    {
        if (!isSame)
        {
            throw new InvalidOperationException($"Both sides differ: {what}.");
        }
    }

    private static long[][] Columns(int count, int rows) =>
        [.. Enumerable.Range(0, count).Select(_ => new long[rows])];

    private static Protocol Open(string path) => ProtocolFile.Open(path).Compilation.Protocol!;
}
