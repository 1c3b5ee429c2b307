using ProtocolKit.Model;
using ProtocolKit.Scoring.Batch;
using ProtocolKit.TestPrograms;
using static ProtocolKit.TestPrograms.Expr;

namespace ProtocolKit.Scoring.Tests.Batch;

/// <summary>The compiled program works on several records at once; the evaluator on one, and in the plainest way.</summary>
public class BatchKernelTests
{
    [Fact]
    public void Random_programs_come_to_what_the_evaluator_says_for_any_number_of_records()
    {
        var random = new Random(7);
        for (var seed = 1; seed <= 80; seed++)
        {
            var program = RandomProgram.From(seed).Program;
            var rows = seed % 40 == 0 ? 300 : random.Next(1, 40);
            long[][] records = [.. Enumerable.Range(0, rows).Select(_ => Record(program, random))];
            Assert.Equal(records.Select(r => Evaluator.Run(program, r)), Kernel(program, records));
        }
    }

    /// <summary>Both branches of a choice are worked out; the one that isn't taken must not matter.</summary>
    [Fact]
    public void A_divisor_of_0_in_the_branch_that_is_not_taken_does_no_harm()
    {
        foreach (var most in new[] { 90L, ScoringProgram.Limit })
        {
            var builder = new TestPrograms.ProgramBuilder();
            var (number, divisor) = (builder.Number("n", 0, most), builder.Number("d", 0, most));
            var quotient = new FloorDivide(number, divisor, 0, most);
            builder.Line("x", new Choose(new IsAtMost(Const(1), divisor), quotient, Const(-1), -1, most));
            var program = builder.Build().Program;
            var (n, d) = (Place(number), Place(divisor));
            long[][] records =
            [
                .. new[]
                {
                    (0, 0),
                    (most, 0),
                    (most, 1),
                    (most, most),
                    (most, 7),
                    (89, 90),
                    (89, 89L),
                }.Select(v =>
                {
                    var record = Record(program, new Random(1));
                    (record[n], record[d]) = v;
                    return record;
                }),
            ];

            var found = Kernel(program, records);

            Assert.Equal([-1, -1, most, 1, most / 7, 0, 1], found.Select(l => l[^1]));
        }
    }

    /// <summary>On a processor with AVX-512 the first of these lines came out true.</summary>
    [Fact]
    public void A_comparison_of_constants_comes_to_what_the_evaluator_says()
    {
        var builder = new TestPrograms.ProgramBuilder();
        var number = builder.Number("n", 0, ScoringProgram.Limit);
        var never = new IsEqual(Const(-1_722_013_315_885_940), Const(-7_668_124_006_553_332));
        var line = builder.Line("x", new BothOf(new IsAtMost(number, number), never));
        builder.Line("y", new BothOf(line, new IsAtMost(Const(-2), number)));
        builder.Line("z", new Choose(line, number, Const(1), 0, ScoringProgram.Limit));
        var program = builder.Build().Program;
        long[][] records = [.. Enumerable.Range(0, 37).Select(i => Record(program, new Random(i)))];
        Assert.Equal(records.Select(r => Evaluator.Run(program, r)), Kernel(program, records));
    }

    /// <summary>Many cases are read from a table, few are compared.</summary>
    [Fact]
    public void A_lookup_of_many_cases_gives_each_its_value()
    {
        var builder = new TestPrograms.ProgramBuilder();
        var subject = builder.Number("n", -30, 60);
        PickCase[] cases = [.. Enumerable.Range(-30, 91).Select(i => new PickCase(i, i, i * 7 % 11))];
        builder.Line("x", new Pick(subject, cases, -10, 10));
        var program = builder.Build().Program;
        long[][] records =
        [
            .. Enumerable
                .Range(-30, 91)
                .Select(i =>
                {
                    var record = Record(program, new Random(1));
                    record[Place(subject)] = i;
                    return record;
                }),
        ];

        Assert.Equal(cases.Select(c => c.Value), Kernel(program, records).Select(l => l[^1]));
    }

    [Fact]
    public void Columns_that_are_too_short_are_refused()
    {
        var program = RandomProgram.From(3).Program;
        int[] wanted = [.. Enumerable.Range(0, program.Lines.Count)];
        var kernel = BatchKernel.Compile(program, wanted);
        long[][] fields = [.. program.Fields.Select(_ => new long[8])];
        long[][] results = [.. wanted.Select(_ => new long[9])];

        Assert.Throws<ArgumentException>(() => kernel.Run(fields, 9, results));
    }

    private static IEnumerable<long[]> Kernel(ScoringProgram program, long[][] records)
    {
        int[] wanted = [.. Enumerable.Range(0, program.Lines.Count)];
        long[][] fields = [.. program.Fields.Select((_, f) => records.Select(r => r[f]).ToArray())];
        long[][] results = [.. wanted.Select(_ => new long[records.Length])];
        BatchKernel.Compile(program, wanted).Run(fields, records.Length, results);
        return records.Select((_, row) => results.Select(r => r[row]).ToArray());
    }

    private static long[] Record(ScoringProgram program, Random random) =>
        [
            .. program.Fields.Select(f =>
                random.Next(4) switch
                {
                    0 => f.Low,
                    1 => f.High,
                    _ => random.NextInt64(f.Low, f.High + 1),
                }
            ),
        ];

    private static int Place(IntExpr field) => ((FieldValue)field).Field;
}
