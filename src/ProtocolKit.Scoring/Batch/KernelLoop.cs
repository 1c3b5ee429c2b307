using System.Linq.Expressions;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>One loop over records that works out some lines.</summary>
internal sealed class KernelLoop(KernelCompiler compiler, ScoringProgram program, IReadOnlyList<int> lines)
{
    /// <summary>Lookups with more values than this are written as comparisons.</summary>
    private const long LargestTable = 4096;

    private readonly ParameterExpression _fields = Expression.Parameter(typeof(long[][]), "fields");
    private readonly ParameterExpression _lines = Expression.Parameter(typeof(long[][]), "lines");
    private readonly ParameterExpression _tables = Expression.Parameter(typeof(long[][]), "tables");
    private readonly ParameterExpression _start = Expression.Parameter(typeof(int), "start");
    private readonly ParameterExpression _count = Expression.Parameter(typeof(int), "count");
    private readonly ParameterExpression _at = Expression.Variable(typeof(int), "at");
    private readonly Dictionary<(ParameterExpression From, int Index), ParameterExpression> _columns = [];
    private readonly Dictionary<int, ParameterExpression> _own = [];

    public BatchKernel.Chunk Compile()
    {
        var body = new List<Expression>();
        foreach (var line in lines)
        {
            var isCondition = program.Lines[line].Value is null;
            var own = Expression.Variable(isCondition ? typeof(bool) : typeof(long));
            var value = isCondition
                ? Holds(program.Lines[line].Condition!)
                : Value(program.Lines[line].Value!);
            body.Add(Expression.Assign(own, value));
            _own.Add(line, own);
            if (compiler.Stored.Contains(line))
            {
                var number = isCondition
                    ? Expression.Condition(own, Expression.Constant(1L), Expression.Constant(0L))
                    : (Expression)own;
                body.Add(Expression.Assign(Expression.ArrayAccess(Column(_lines, line), _at), number));
            }
        }

        return Expression
            .Lambda<BatchKernel.Chunk>(Loop(body), _fields, _lines, _tables, _start, _count)
            .Compile();
    }

    private BlockExpression Loop(List<Expression> body)
    {
        var end = Expression.Label();
        var loop = Expression.Loop(
            Expression.IfThenElse(
                Expression.LessThan(_at, _count),
                Expression.Block(_own.Values, body.Append(Expression.PreIncrementAssign(_at))),
                Expression.Break(end)
            ),
            end
        );
        var loads = _columns.Select(c =>
            Expression.Assign(c.Value, Expression.ArrayIndex(c.Key.From, Expression.Constant(c.Key.Index)))
        );
        return Expression.Block(
            [.. _columns.Values, _at],
            [.. loads, Expression.Assign(_at, Expression.Constant(0)), loop]
        );
    }

    private Expression Value(IntExpr value) =>
        value switch
        {
            Constant c => Expression.Constant(c.Value),
            FieldValue f => Expression.ArrayIndex(Column(_fields, f.Field), Expression.Add(_start, _at)),
            LineValue l => _own.GetValueOrDefault(l.Line)
                ?? (Expression)Expression.ArrayIndex(Column(_lines, l.Line), _at),
            Add a => Expression.Add(Value(a.Left), Value(a.Right)),
            Subtract s => Expression.Subtract(Value(s.Left), Value(s.Right)),
            Multiply m => Expression.Multiply(Value(m.Left), Value(m.Right)),
            Least l => End(nameof(Math.Min), l.Left, l.Right),
            Most m => End(nameof(Math.Max), m.Left, m.Right),
            Choose c => Expression.Condition(Holds(c.If), Value(c.Then), Value(c.Else)),
            FloorDivide d => Expression.Divide(Value(d.Dividend), Value(d.Divisor)),
            GuardedSum s => Sum(s),
            Pick p => Case(p),
            _ => throw new InvalidOperationException("The program holds a value no one has given a meaning."),
        };

    private Expression Holds(BoolExpr condition) =>
        condition switch
        {
            LineCondition l => _own.GetValueOrDefault(l.Line)
                ?? (Expression)
                    Expression.NotEqual(
                        Expression.ArrayIndex(Column(_lines, l.Line), _at),
                        Expression.Constant(0L)
                    ),
            IsEqual e => Expression.Equal(Value(e.Left), Value(e.Right)),
            IsAtMost a => Expression.LessThanOrEqual(Value(a.Left), Value(a.Right)),
            BothOf b => Expression.AndAlso(Holds(b.Left), Holds(b.Right)),
            EitherOf e => Expression.OrElse(Holds(e.Left), Holds(e.Right)),
            Not n => Expression.Not(Holds(n.Inner)),
            _ => throw new InvalidOperationException(
                "The program holds a condition no one has given a meaning."
            ),
        };

    private MethodCallExpression End(string which, IntExpr left, IntExpr right) =>
        Expression.Call(
            typeof(Math).GetMethod(which, [typeof(long), typeof(long)])!,
            Value(left),
            Value(right)
        );

    private Expression Sum(GuardedSum sum)
    {
        Expression total = Expression.Constant(0L);
        foreach (var term in sum.Terms)
        {
            var value = Value(term.Value);
            total = Expression.Add(
                total,
                term.If is null ? value : Expression.Condition(Holds(term.If), value, Expression.Constant(0L))
            );
        }

        return total;
    }

    /// <summary>The cases cover the subject's limits, which is why a table needs no check.</summary>
    private Expression Case(Pick pick)
    {
        var subject = Value(pick.Subject);
        if (pick.Subject.High - pick.Subject.Low < LargestTable)
        {
            var place = Expression.Subtract(subject, Expression.Constant(pick.Subject.Low));
            return Expression.ArrayIndex(
                Column(_tables, compiler.TableOf(pick)),
                Expression.Convert(place, typeof(int))
            );
        }

        var once = Expression.Variable(typeof(long));
        Expression result = Expression.Constant(pick.Cases[^1].Value);
        foreach (var one in pick.Cases.Reverse().Skip(1))
        {
            result = Expression.Condition(
                Expression.LessThanOrEqual(once, Expression.Constant(one.To)),
                Expression.Constant(one.Value),
                result
            );
        }

        return Expression.Block([once], Expression.Assign(once, subject), result);
    }

    private ParameterExpression Column(ParameterExpression from, int index)
    {
        if (!_columns.TryGetValue((from, index), out var column))
        {
            column = Expression.Variable(typeof(long[]));
            _columns.Add((from, index), column);
        }

        return column;
    }
}
