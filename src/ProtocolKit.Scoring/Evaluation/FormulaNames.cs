using System.Runtime.CompilerServices;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// What a value rests on: the answers the program reads for it, and the names its formula mentions, conditions
/// included, through the values it is made of.
/// </summary>
internal sealed class FormulaNames
{
    public sealed record Found(IReadOnlyList<KeptLines> Answers, IReadOnlyList<ObservationSlot> Observations)
    {
        /// <summary>Where the answers stand among the program's.</summary>
        public IReadOnlyList<int> Places { get; init; } = [];
    }

    /// <summary>Worked out once a program: batches score thousands of records.</summary>
    private static readonly ConditionalWeakTable<ScoringProgram, Dictionary<string, Found>> Known = [];

    private readonly ScoringProgram _program;
    private readonly Dictionary<string, OutcomeLines> _outcomes;
    private readonly HashSet<string> _answers = new(StringComparer.Ordinal);
    private readonly HashSet<string> _observations = new(StringComparer.Ordinal);
    private readonly HashSet<string> _visited = new(StringComparer.Ordinal);

    private FormulaNames(ScoringProgram program)
    {
        _program = program;
        _outcomes = program.Outcomes.ToDictionary(o => o.Outcome.Name, StringComparer.Ordinal);
    }

    /// <summary>Kept answers and observations, each in the order of the program.</summary>
    public static Found Of(ScoringProgram program, Outcome outcome) =>
        Known.GetValue(program, All).TryGetValue(outcome.Name, out var found) ? found : new Found([], []);

    private static Dictionary<string, Found> All(ScoringProgram program) =>
        program.Outcomes.ToDictionary(
            o => o.Outcome.Name,
            o => One(program, o.Outcome.Name),
            StringComparer.Ordinal
        );

    private static Found One(ScoringProgram program, string outcome)
    {
        var names = new FormulaNames(program);
        names.Visit(outcome);
        int[] places =
        [
            .. Enumerable
                .Range(0, program.Kept.Count)
                .Where(i => names._answers.Contains(program.Kept[i].Key)),
        ];
        return new Found(
            [.. places.Select(i => program.Kept[i])],
            [.. program.Observations.Where(o => names._observations.Contains(o.Key))]
        )
        {
            Places = places,
        };
    }

    /// <summary>Words of letters, digits, hyphens and dots, without quoted texts.</summary>
    internal static IEnumerable<string> WordsOf(string formula)
    {
        var start = -1;
        for (var i = 0; i <= formula.Length; i++)
        {
            var isPart =
                i < formula.Length && (char.IsAsciiLetterOrDigit(formula[i]) || formula[i] is '-' or '.');
            if (isPart && start < 0)
            {
                start = i;
            }
            else if (!isPart && start >= 0)
            {
                yield return formula[start..i].Trim('.', '-');
                start = -1;
            }
        }
    }

    private void Visit(string name)
    {
        if (!_visited.Add(name) || !_outcomes.TryGetValue(name, out var lines))
        {
            return;
        }

        _answers.UnionWith(lines.Reads);
        foreach (var word in WordsOf(lines.Outcome.Formula))
        {
            Visit(word);
            _answers.UnionWith(_program.Kept.Where(k => IsNamed(k, word)).Select(k => k.Key));
            _observations.UnionWith(_program.Observations.Where(o => o.Key == word).Select(o => o.Key));
        }
    }

    /// <summary>In full, or a bare task or side where it has one response.</summary>
    private static bool IsNamed(KeptLines kept, string word)
    {
        if (kept.Key == word)
        {
            return true;
        }

        var side = kept.Variant.Name.Length == 0 ? "" : "." + kept.Variant.Name;
        return kept.Task.Responses.Count == 1 && kept.Task.Name + side == word;
    }
}
