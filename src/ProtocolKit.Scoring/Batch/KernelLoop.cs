using System.Linq.Expressions;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>One loop over records, several at a time, that works out some lines.</summary>
internal sealed class KernelLoop(KernelCompiler compiler, ScoringProgram program, IReadOnlyList<int> lines)
{
    /// <summary>Lookups with more cases than this are read from a table, one record at a time.</summary>
    private const int MostCases = 24;

    private readonly ParameterExpression _fields = Expression.Parameter(typeof(long[][]), "fields");
    private readonly ParameterExpression _lines = Expression.Parameter(typeof(long[][]), "lines");
    private readonly ParameterExpression _tables = Expression.Parameter(typeof(long[][]), "tables");
    private readonly ParameterExpression _start = Expression.Parameter(typeof(int), "start");
    private readonly ParameterExpression _count = Expression.Parameter(typeof(int), "count");
    private readonly ParameterExpression _at = Expression.Variable(typeof(int), "at");
    private readonly Dictionary<(ParameterExpression From, int Index), ParameterExpression> _columns = [];
    private readonly Dictionary<int, ParameterExpression> _own = [];
    private readonly SameParts _same = new(program, lines);
    private readonly Dictionary<int, ParameterExpression> _shared = [];
    private readonly List<ParameterExpression> _variables = [];
    private readonly List<Expression> _body = [];

    public BatchKernel.Chunk Compile()
    {
        foreach (var line in lines)
        {
            var isCondition = program.Lines[line].Value is null;
            var value = isCondition
                ? Holds(program.Lines[line].Condition!)
                : Value(program.Lines[line].Value!);
            _own.Add(line, Keep(value));
            if (compiler.Stored.Contains(line))
            {
                var number = isCondition ? Expression.Negate(_own[line]) : (Expression)_own[line];
                _body.Add(Lanes.Store(number, Column(_lines, line), _at));
            }
        }

        return Expression
            .Lambda<BatchKernel.Chunk>(Loop(), _fields, _lines, _tables, _start, _count)
            .Compile();
    }

    private ParameterExpression Keep(Expression value)
    {
        if (value is ParameterExpression kept)
        {
            return kept;
        }

        var variable = Expression.Variable(typeof(Vector<long>));
        _variables.Add(variable);
        _body.Add(Expression.Assign(variable, value));
        return variable;
    }

    /// <summary>What is said twice is worked out where it is said first: there are no branches it could stand in.</summary>
    private Expression Once(object part, Func<Expression> write)
    {
        var number = _same.NumberOf(part);
        if (!_same.IsShared(number) || part is Constant)
        {
            return write();
        }

        if (!_shared.TryGetValue(number, out var variable))
        {
            variable = Keep(write());
            _shared.Add(number, variable);
        }

        return variable;
    }

    private BlockExpression Loop()
    {
        var end = Expression.Label();
        var step = Expression.AddAssign(_at, Expression.Constant(Lanes.Count));
        var loop = Expression.Loop(
            Expression.IfThenElse(
                Expression.LessThan(_at, _count),
                Expression.Block(_variables, _body.Append(step)),
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

    private Expression Value(IntExpr value) => Once(value, () => Written(value));

    private Expression Holds(BoolExpr condition) => Once(condition, () => Written(condition));

    private Expression Written(IntExpr value) =>
        value switch
        {
            Constant c => Lanes.All(c.Value),
            FieldValue f => Lanes.Load(Column(_fields, f.Field), Expression.Add(_start, _at)),
            LineValue l => _own.GetValueOrDefault(l.Line) ?? Lanes.Load(Column(_lines, l.Line), _at),
            Add a => Expression.Add(Value(a.Left), Value(a.Right)),
            Subtract s => Expression.Subtract(Value(s.Left), Value(s.Right)),
            Multiply m => Expression.Multiply(Value(m.Left), Value(m.Right)),
            Least l => Lanes.Least(Value(l.Left), Value(l.Right)),
            Most m => Lanes.Most(Value(m.Left), Value(m.Right)),
            Choose c => Lanes.Choose(Holds(c.If), Value(c.Then), Value(c.Else)),
            FloorDivide d => Lanes.Divide(Value(d.Dividend), Value(d.Divisor), IsSmall(d)),
            GuardedSum s => s.Terms.Select(Term).DefaultIfEmpty(Lanes.All(0)).Aggregate(Expression.Add),
            Pick p => Case(p),
            _ => throw new InvalidOperationException("The program holds a value no one has given a meaning."),
        };

    private Expression Written(BoolExpr condition) =>
        condition switch
        {
            LineCondition l => _own.GetValueOrDefault(l.Line)
                ?? (Expression)Expression.Negate(Lanes.Load(Column(_lines, l.Line), _at)),
            IsEqual e => Decided(e) ?? Lanes.AreEqual(Value(e.Left), Value(e.Right)),
            IsAtMost a => Decided(a) ?? Lanes.AreAtMost(Value(a.Left), Value(a.Right)),
            BothOf b => Expression.And(Holds(b.Left), Holds(b.Right)),
            EitherOf e => Expression.Or(Holds(e.Left), Holds(e.Right)),
            Not n => Expression.OnesComplement(Holds(n.Inner)),
            _ => throw new InvalidOperationException(
                "The program holds a condition no one has given a meaning."
            ),
        };

    /// <summary>
    /// What the limits of both sides decide; null where they leave it open. A comparison of two constants must not reach the just-in-time
    /// compiler: with AVX-512, .NET 10.0.12 was seen to take it for the contrary (BatchKernelTests).
    /// </summary>
    private static Expression? Decided(IsEqual e) =>
        e.Left.High < e.Right.Low || e.Right.High < e.Left.Low ? Lanes.All(0)
        : e.Left.Low == e.Left.High && e.Right.Low == e.Right.High ? Lanes.All(-1)
        : null;

    /// <inheritdoc cref="Decided(IsEqual)"/>
    private static Expression? Decided(IsAtMost a) =>
        a.Left.High <= a.Right.Low ? Lanes.All(-1)
        : a.Left.Low > a.Right.High ? Lanes.All(0)
        : null;

    private static bool IsSmall(FloorDivide division) =>
        division.Dividend.High < LaneMath.FewestTooLarge && division.Divisor.High < LaneMath.FewestTooLarge;

    /// <summary>A condition that holds has all bits, and one that doesn't has none.</summary>
    private Expression Term(SumTerm term) =>
        term.If is null ? Value(term.Value)
        : term.Value is Constant { Value: 1 } ? Expression.Negate(Holds(term.If))
        : Expression.And(Holds(term.If), Value(term.Value));

    /// <summary>The cases cover the subject's limits and stand in order.</summary>
    private Expression Case(Pick pick)
    {
        var subject = Value(pick.Subject);
        if (
            pick.Cases.Count > MostCases
            && pick.Subject.High - pick.Subject.Low < KernelCompiler.LargestTable
        )
        {
            var table = Column(_tables, compiler.TableOf(pick));
            return Lanes.Lookup(table, pick.Subject.Low, subject);
        }

        var once = Keep(subject);
        var result = Lanes.All(pick.Cases[^1].Value);
        foreach (var one in pick.Cases.Reverse().Skip(1))
        {
            var isUpTo = Lanes.AreAtMost(once, Lanes.All(one.To));
            result = Lanes.Choose(isUpTo, Lanes.All(one.Value), result);
        }

        return result;
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
