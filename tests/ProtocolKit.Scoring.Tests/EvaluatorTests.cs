using ProtocolKit.Model;
using static ProtocolKit.Scoring.Tests.ProgramBuilder;

namespace ProtocolKit.Scoring.Tests;

public class EvaluatorTests
{
    private static readonly FieldValue F = new(0, 0, 1200);

    [Theory]
    [InlineData(5, 12)]
    [InlineData(0, 2)]
    [InlineData(7, 16)]
    public void Lines_read_fields_and_earlier_lines(long field, long expected)
    {
        var lines = Run(
            field,
            new Add(F, Number(1), 0, 2000),
            new Multiply(new LineValue(0, 0, 2000), Number(2), 0, 4000)
        );
        Assert.Equal(expected, lines[1]);
    }

    [Theory]
    [InlineData(0, 0, 1)]
    [InlineData(3, 3, 4)]
    [InlineData(9, 9, 10)]
    public void Least_most_and_subtract(long field, long least, long most)
    {
        var lines = Run(
            field,
            new Least(F, new Add(F, Number(1), 0, 2000), 0, 1200),
            new Most(F, new Add(F, Number(1), 0, 2000), 0, 2000),
            new Subtract(F, Number(10), -10, 1190)
        );
        Assert.Equal([least, most, field - 10], lines);
    }

    [Theory]
    [InlineData(6, 2)]
    [InlineData(7, 2)]
    [InlineData(8, 2)]
    [InlineData(9, 3)]
    public void Floor_divide_rounds_down(long field, long expected) =>
        Assert.Equal(expected, Run(field, new FloorDivide(F, Number(3), 0, 400))[0]);

    [Fact]
    public void A_sum_takes_the_terms_whose_condition_holds()
    {
        var sum = new GuardedSum(
            [
                new SumTerm(null, Number(1)),
                new SumTerm(Is(F, 4), Number(10)),
                new SumTerm(Is(F, 5), Number(100)),
            ],
            0,
            111
        );
        Assert.Equal(11, Run(4, sum)[0]);
        Assert.Equal(101, Run(5, sum)[0]);
        Assert.Equal(1, Run(6, sum)[0]);
    }

    [Theory]
    [InlineData(0, 7)]
    [InlineData(2, 7)]
    [InlineData(3, -1)]
    public void A_pick_takes_the_case_that_holds_the_subject(long field, long expected) =>
        Assert.Equal(
            expected,
            Run(field, new Pick(F, [new PickCase(0, 2, 7), new PickCase(3, 1200, -1)], -1, 7))[0]
        );

    [Theory]
    [InlineData(3, 1, 0, 1, 1)]
    [InlineData(4, 1, 1, 0, 0)]
    [InlineData(5, 0, 1, 0, 1)]
    public void Conditions_are_one_and_zero(
        long field,
        long atMostFour,
        long notThree,
        long both,
        long either
    )
    {
        var program = new ProgramBuilder();
        program.Line("a", new IsAtMost(F, Number(4)));
        program.Line("b", new Not(Is(F, 3)));
        program.Line("c", new BothOf(new LineCondition(0), new Not(new LineCondition(1))));
        program.Line("d", new EitherOf(Is(F, 3), Is(F, 5)));
        Assert.Equal([atMostFour, notThree, both, either], Evaluator.Run(program.Build(), [field, 0]));
    }

    [Theory]
    [InlineData(-1, 0)]
    [InlineData(1201, 0)]
    [InlineData(0, 2)]
    public void Values_outside_their_bounds_are_refused(long age, long form)
    {
        var fault = Assert.Throws<ArgumentException>(() =>
            Evaluator.Run(new ProgramBuilder().Build(), [age, form])
        );
        Assert.Contains("outside its bounds", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wrong_number_of_values_is_refused() =>
        Assert.Throws<ArgumentException>(() => Evaluator.Run(new ProgramBuilder().Build(), [0]));

    private static long[] Run(long field, params IntExpr[] values)
    {
        var program = new ProgramBuilder();
        for (var i = 0; i < values.Length; i++)
        {
            program.Line($"line-{i}", values[i]);
        }

        return Evaluator.Run(program.Build(), [field, 0]);
    }
}
