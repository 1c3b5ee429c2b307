using FsCheck.Xunit;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Lines kept beside changing fields are those that the evaluator works out from nothing.</summary>
public class RunningLinesTests
{
    [Property(MaxTest = 150)]
    public void Changed_fields_come_to_what_the_evaluator_says(int seed)
    {
        var random = new Random(seed);
        var program = RandomProgram.From(seed).Program;
        var fields = program.Fields.Select(f => random.NextInt64(f.Low, f.High)).ToArray();
        var count = random.Next(1, program.Lines.Count + 1);
        var running = new RunningLines(program, fields, count);
        for (var change = 0; change < 30; change++)
        {
            for (var more = random.Next(3); more >= 0; more--)
            {
                var field = random.Next(program.Fields.Count);
                var (low, high) = (program.Fields[field].Low, program.Fields[field].High);
                running.Set(field, random.Next(4) == 0 ? low : random.NextInt64(low, high));
            }

            var line = random.Next(count);
            var all = Evaluator.Run(program, fields, count);

            Assert.Equal(all[line], running[line]);
            Assert.Equal(all, running.All());
        }
    }

    [Fact]
    public void Known_lines_are_not_changed_with_the_record()
    {
        var program = RandomProgram.From(3).Program;
        var fields = program.Fields.Select(f => f.Low).ToArray();
        var known = Evaluator.Run(program, fields);
        long[] before = [.. known];
        var running = new RunningLines(program, fields, known);

        for (var i = 0; i < fields.Length; i++)
        {
            running.Set(i, program.Fields[i].High);
        }

        Assert.Equal(Evaluator.Run(program, fields), running.All());
        Assert.NotEqual(before, running.All());
        Assert.Equal(before, known);
    }
}
