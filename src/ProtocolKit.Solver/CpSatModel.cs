using Google.OrTools.Sat;
using ProtocolKit.Proof;

namespace ProtocolKit.Solver;

/// <summary>A problem as variables and constraints of CP-SAT: one variable a value, one a part for the row it takes.</summary>
internal sealed class CpSatModel
{
    private const long Answer = 1_000_000;

    private readonly SolverProblem _problem;
    private readonly IntVar[] _values;
    private readonly List<IntVar> _rows = [];
    private readonly List<IntVar> _costs = [];

    public CpSatModel(SolverProblem problem)
    {
        _problem = problem;
        _values = [.. problem.Values.Select((v, i) => Variable(v.Low, v.High, $"v{i}"))];
        for (var i = 0; i < _values.Length; i++)
        {
            Constrain(_values[i], problem.Values[i]);
        }

        foreach (var part in problem.Parts)
        {
            Constrain(part);
        }

        foreach (var held in problem.Holds)
        {
            Model.Add(_values[held] == 1);
        }
    }

    public CpModel Model { get; } = new();

    public IReadOnlyList<int> Rows(CpSolver solver) => [.. _rows.Select(r => (int)solver.Value(r))];

    /// <summary>Asks for fewer answers that differ and then fewer steps off, beginning at a solution.</summary>
    public void AskForSmall(IReadOnlyList<int> rows)
    {
        for (var i = 0; i < rows.Count; i++)
        {
            Model.AddHint(_rows[i], rows[i]);
        }

        Model.Minimize(LinearExpr.Sum(_costs));
    }

    /// <summary>What lies between 0 and 1 can stand as a condition.</summary>
    private IntVar Variable(long low, long high, string name)
    {
        if (low < 0 || high > 1)
        {
            return Model.NewIntVar(low, high, name);
        }

        var truth = Model.NewBoolVar(name);
        if (low == high)
        {
            Model.Add(truth == low);
        }

        return truth;
    }

    private void Constrain(SolverPart part)
    {
        var row = Model.NewIntVar(0, part.Rows.Count - 1, $"row{_rows.Count}");
        var costs = part.Differing.Select((d, i) => (d * Answer) + part.StepsOff[i]).ToArray();
        var cost = Model.NewIntVar(costs.Min(), costs.Max(), $"cost{_rows.Count}");
        var table = Model.AddAllowedAssignments([row, cost, .. part.Fields.Select(f => _values[f])]);
        for (var i = 0; i < part.Rows.Count; i++)
        {
            table.AddTuple([i, costs[i], .. part.Rows[i]]);
        }

        _rows.Add(row);
        _costs.Add(cost);
    }

    private void Constrain(IntVar value, SolverValue from)
    {
        var args = from.Args.Select(a => _values[a]).ToArray();
        switch (from.Op)
        {
            case SolverOp.Constant:
                Model.Add(value == from.Constant);
                break;
            case SolverOp.Field:
                break;
            case SolverOp.Linear:
                Model.Add(value == LinearExpr.WeightedSum(args, from.Numbers) + from.Constant);
                break;
            case SolverOp.Multiply:
                Model.AddMultiplicationEquality(value, args);
                break;
            case SolverOp.Least:
                Model.AddMinEquality(value, args);
                break;
            case SolverOp.Most:
                Model.AddMaxEquality(value, args);
                break;
            case SolverOp.Divide:
                Model.AddDivisionEquality(value, args[0], args[1]);
                break;
            case SolverOp.Choose:
                Model.Add(value == args[1]).OnlyEnforceIf(Truth(args[0]));
                Model.Add(value == args[2]).OnlyEnforceIf(Truth(args[0]).Not());
                break;
            case SolverOp.Pick:
                Cases(value, args[0], from.Numbers);
                break;
            case SolverOp.Clamp:
                var least = Model.NewIntVar(
                    from.Numbers[0],
                    long.Max(from.Numbers[0], Most(from.Args[0])),
                    ""
                );
                Model.AddMaxEquality(least, [args[0], Model.NewConstant(from.Numbers[0])]);
                Model.AddMinEquality(value, [least, Model.NewConstant(from.Numbers[1])]);
                break;
            case SolverOp.Same:
                Model.Add(value == args[0]);
                break;
            default:
                Condition(Truth(value), from.Op, args);
                break;
        }
    }

    private long Most(int value) => _problem.Values[value].High;

    private void Condition(ILiteral truth, SolverOp op, IntVar[] args)
    {
        switch (op)
        {
            case SolverOp.Equal:
                Model.Add(args[0] == args[1]).OnlyEnforceIf(truth);
                Model.Add(args[0] != args[1]).OnlyEnforceIf(truth.Not());
                break;
            case SolverOp.AtMost:
                Model.Add(args[0] <= args[1]).OnlyEnforceIf(truth);
                Model.Add(args[0] > args[1]).OnlyEnforceIf(truth.Not());
                break;
            case SolverOp.Both:
                Model.AddBoolAnd(args.Select(Truth)).OnlyEnforceIf(truth);
                Model.AddBoolOr(args.Select(a => Truth(a).Not())).OnlyEnforceIf(truth.Not());
                break;
            case SolverOp.Either:
                Model.AddBoolOr(args.Select(Truth)).OnlyEnforceIf(truth);
                Model.AddBoolAnd(args.Select(a => Truth(a).Not())).OnlyEnforceIf(truth.Not());
                break;
            case SolverOp.Not:
                Model.AddBoolXor([truth, Truth(args[0])]);
                break;
            default:
                throw new InvalidOperationException($"{op} was given no meaning.");
        }
    }

    private static ILiteral Truth(IntVar value) =>
        value as ILiteral ?? throw new InvalidOperationException("A condition must lie between 0 and 1.");

    private void Cases(IntVar value, IntVar subject, IReadOnlyList<long> cases)
    {
        var chosen = new List<ILiteral>();
        for (var i = 0; i < cases.Count; i += 3)
        {
            var here = Model.NewBoolVar("");
            Model.Add(subject >= cases[i]).OnlyEnforceIf(here);
            Model.Add(subject <= cases[i + 1]).OnlyEnforceIf(here);
            Model.Add(value == cases[i + 2]).OnlyEnforceIf(here);
            chosen.Add(here);
        }

        Model.AddExactlyOne(chosen);
    }
}
