using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Chooses the kept trial of each task and side and names the state and ends of its answers. The whole trial
/// is kept: answers of different trials never mix.
/// </summary>
internal sealed class KeptTrialLowering(ProgramBuilder program, AnswerLowering answers)
{
    private List<KeptLines> _kept = [];
    private readonly List<TrialWords> _words = [];

    public IReadOnlyList<KeptLines> Kept => _kept;

    /// <summary>What was handed out stays as it was.</summary>
    public void Rename(string old, ProtocolTask anew, Undo undo)
    {
        var before = _kept;
        undo.Add(() => _kept = before);
        _kept =
        [
            .. before.Select(k =>
                k.Task.Name == old ? k with { Task = anew, Key = anew.Name + k.Key[old.Length..] } : k
            ),
        ];
    }

    /// <summary>A task's trials as they were kept anew, in the place of the earlier.</summary>
    public void Replace(string task, IReadOnlyList<KeptLines> anew, Undo undo)
    {
        var before = _kept;
        undo.Add(() => _kept = before);
        var at = before.FindIndex(k => k.Task.Name == task);
        _kept = [.. before.Take(at), .. anew, .. before.Skip(at).Where(k => k.Task.Name != task)];
    }

    /// <param name="criterion">
    /// What decides, for one trial: its value in steps and the state fields it rests on. Null for first, last and single trials.
    /// </param>
    public void Lower(
        ProtocolTask task,
        Variant variant,
        Func<int, (IntExpr Value, IReadOnlyList<IntExpr> States)>? criterion
    )
    {
        var groups = new List<AnswerGroup>(task.Responses.Count);
        foreach (var response in task.Responses)
        {
            groups.Add(answers.Find(task.Name, response.Name, variant.Name)!);
        }

        if (groups.Count == 0)
        {
            return;
        }

        if (task.Trials.IsCombined)
        {
            var combined = new CombinedTrialLowering(program).Lower(groups[0], task.Trials);
            Name(groups[0], combined.State, combined.Value, null, combined);
            return;
        }

        var count = task.Trials.Count;
        if (count == 1 || criterion is null)
        {
            if (task.Trials is { Keep: Keep.Last, FurtherWhen: not null })
            {
                LastGiven(groups, count);
                return;
            }

            var trial = task.Trials.Keep == Keep.Last ? count : 1;
            foreach (var group in groups)
            {
                Name(
                    group,
                    group.Trials[trial - 1].State,
                    group.Trials[trial - 1].Value,
                    count == 1 ? null : IntMath.Number(trial)
                );
            }

            return;
        }

        Decide(task, variant, groups, criterion);
    }

    /// <summary>The last trial, or the one before it where the last was not needed.</summary>
    private void LastGiven(List<AnswerGroup> groups, int count)
    {
        foreach (var group in groups)
        {
            var (first, last) = (group.Trials[count - 2], group.Trials[count - 1]);
            var isUnneeded = Bools.Equal(last.State, (long)State.NotApplicable);
            Name(
                group,
                IntMath.Choose(isUnneeded, first.State, last.State),
                IntMath.Choose(isUnneeded, first.Value, last.Value),
                IntMath.Choose(isUnneeded, IntMath.Number(count - 1), IntMath.Number(count))
            );
        }
    }

    private void Decide(
        ProtocolTask task,
        Variant variant,
        List<AnswerGroup> groups,
        Func<int, (IntExpr Value, IReadOnlyList<IntExpr> States)> criterion
    )
    {
        var name = variant.Name.Length == 0 ? $"kept.{task.Name}" : $"kept.{task.Name}.{variant.Name}";
        IntExpr chosen = IntMath.Number(0);
        IntExpr? best = null;
        var states = new List<IntExpr>();
        for (var trial = 1; trial <= task.Trials.Count; trial++)
        {
            var (value, needed) = criterion(trial);
            states.AddRange(needed);
            var given = Bools.All(needed.Select(s => Bools.Equal(s, 0)));
            var better = best is null
                ? given
                : Bools.And(given, Bools.Or(Bools.Equal(chosen, 0), IsBetter(task.Trials.Keep, value, best)));
            var words = WordsOf(trial);
            better = program.Name(name + words.Better, better, words.BetterNote);
            best = program.Name(
                name + words.Best,
                IntMath.Choose(better, value, best ?? value),
                words.BestNote
            );
            chosen = program.Name(
                name + words.Chosen,
                IntMath.Choose(better, IntMath.Number(trial), chosen),
                words.ChosenNote
            );
        }

        var none = program.Name(
            $"{name}.none",
            // A measure that reads no answer decides by nothing: the first trial counts.
            states.Count == 0
                ? IntMath.Number(0)
                : IntMath.Balanced(states, IntMath.Most),
            "the gravest reason why no trial counts"
        );
        foreach (var group in groups)
        {
            var state = none;
            IntExpr value = group.Trials[0].Value;
            for (var trial = task.Trials.Count; trial >= 1; trial--)
            {
                var isKept = Bools.Equal(chosen, trial);
                state = IntMath.Choose(isKept, group.Trials[trial - 1].State, state);
                value =
                    trial == task.Trials.Count
                        ? group.Trials[trial - 1].Value
                        : IntMath.Choose(isKept, group.Trials[trial - 1].Value, value);
            }

            Name(group, state, value, chosen);
        }
    }

    /// <summary>The same for every task: written once.</summary>
    private TrialWords WordsOf(int trial)
    {
        while (_words.Count < trial)
        {
            _words.Add(TrialWords.Of(_words.Count + 1));
        }

        return _words[trial - 1];
    }

    private static BoolExpr IsBetter(Keep keep, IntExpr value, IntExpr best) =>
        keep == Keep.Highest ? Bools.Not(Bools.AtMost(value, best)) : Bools.Not(Bools.AtMost(best, value));

    private void Name(
        AnswerGroup group,
        IntExpr state,
        IntExpr value,
        IntExpr? trial,
        SteppedAnswer? stepped = null
    )
    {
        var name = $"kept.{group.Key}";
        if (
            group.Response.Kind == ResponseKind.Rating
            && answers.HelpOf(group.Task, group.Variant) is { } help
        )
        {
            stepped = help.Cost(group.Response, state, value, program.Math);
            value = program.Name($"{name}.after-help", stepped.Value, "after the cost of help");
        }

        var (lowest, highest) = stepped is null
            ? Encoding.Bounds(group.Response)
            : (stepped.Lowest, stepped.Highest);
        var stateLine = program.Line($"{name}.state", state, "0 answered, 1 not applicable, 2 to 8 untried");
        var stateValue = ProgramBuilder.Reference(stateLine, state);
        var known = Bools.Equal(stateValue, 0);
        var low = IntMath.Choose(known, value, IntMath.Number(lowest));
        var high = IntMath.Choose(known, value, IntMath.Number(highest));
        var lowLine = program.Line($"{name}.low", low, "the answer, or the least it could be");
        var highLine = program.Line($"{name}.high", high, "the answer, or the most it could be");
        group.Kept = new KeptAnswer(
            stateValue,
            ProgramBuilder.Reference(lowLine, low),
            ProgramBuilder.Reference(highLine, high)
        )
        {
            Steps = stepped is null ? null : new KeptSteps(stepped.Step, lowest, highest),
        };
        var trialLine = trial is null ? -1 : program.Line($"{name}.trial", trial, "the kept trial, 0 none");
        _kept.Add(
            new KeptLines(
                group.Key,
                group.Task,
                group.Response,
                group.Variant,
                stateLine,
                lowLine,
                highLine,
                trialLine
            )
            {
                Step = stepped?.Step,
            }
        );
    }
}

/// <summary>How the lines of a trial's number are named and what they mean.</summary>
internal sealed record TrialWords(
    string Better,
    string BetterNote,
    string Best,
    string BestNote,
    string Chosen,
    string ChosenNote
)
{
    public static TrialWords Of(int trial)
    {
        var number = trial.ToString(CultureInfo.InvariantCulture);
        return new TrialWords(
            $".trial-{number}.better",
            $"trial {number} is better than the ones before",
            $".trial-{number}.best",
            $"the best up to trial {number}",
            $".trial-{number}.chosen",
            $"the kept trial up to trial {number}, 0 none"
        );
    }
}
