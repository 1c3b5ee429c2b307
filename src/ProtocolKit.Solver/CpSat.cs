using System.Globalization;
using Google.OrTools.Sat;
using ProtocolKit.Proof;

namespace ProtocolKit.Solver;

/// <summary>
/// Asks CP-SAT of OR-tools what the exact engine leaves open. First whether there is such a sheet at all; then, in the time left, for one
/// with fewer answers that differ from a flawless sheet and fewer steps off.
/// </summary>
/// <param name="seconds">For each question.</param>
public sealed class CpSat(double seconds = 5) : IBeyondLimit
{
    public SolverAnswer Solve(SolverProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        var limit = string.Create(CultureInfo.InvariantCulture, $"{seconds} seconds");
        var writer = new CpSatModel(problem);
        var solver = new CpSolver
        {
            StringParameters = string.Create(
                CultureInfo.InvariantCulture,
                $"max_time_in_seconds:{seconds} num_workers:2 random_seed:1"
            ),
        };
        var status = solver.Solve(writer.Model);
        if (status == CpSolverStatus.Infeasible)
        {
            return new SolverAnswer(SolverOutcome.Impossible, [], limit);
        }

        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return new SolverAnswer(SolverOutcome.Open, [], limit);
        }

        var rows = writer.Rows(solver);
        writer.AskForSmall(rows);
        status = solver.Solve(writer.Model);
        return new SolverAnswer(
            SolverOutcome.Found,
            status is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? writer.Rows(solver) : rows,
            limit
        );
    }
}
