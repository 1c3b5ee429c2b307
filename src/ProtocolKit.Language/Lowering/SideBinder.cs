using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>A task of a side difference: its answer on both sides, or where it moves off to.</summary>
/// <param name="Response">Null where the task is left out.</param>
internal sealed record BoundSide(ProtocolTask Task, Response Response, Place Place)
{
    public bool IsDirection => Response.Kind == ResponseKind.Direction;
}

/// <summary>Which tasks a side difference is made of, and how many of them must agree.</summary>
internal sealed class SideBinder(TaskIndex tasks, NameLookup names, DiagnosticBag diagnostics)
{
    /// <summary>The sided tasks first, then directions; null after reporting.</summary>
    public List<BoundSide>? Bind(OutcomeBlock block)
    {
        var body = block.Sides!;
        if (body.Answers.Count != 1 || body.Agree.Count != 1)
        {
            ReportLines(block, body);
            return null;
        }

        var sided = Sided(body.Answers[0]);
        var directions = body.Directions.Select(Directions).ToList();
        if (sided is null || directions.Contains(null))
        {
            return null;
        }

        List<BoundSide> all = [.. sided, .. directions.SelectMany(d => d!)];
        return CheckAgree(block, body.Agree[0], all.Count) ? all : null;
    }

    public static int AgreeOf(OutcomeBlock block) => (int)block.Sides!.Agree[0].Tasks.Number!.Value.Numerator;

    private void ReportLines(OutcomeBlock block, SideBody body)
    {
        if (body.Answers.Count > 1)
        {
            Report(body.Answers[1], body.Answers[1].Place, MeaningMessages.LineTwice("tasks"));
        }
        else if (body.Agree.Count > 1)
        {
            Report(body.Agree[1], body.Agree[1].Place, MeaningMessages.LineTwice("weaker side"));
        }
        else if (!block.Incomplete)
        {
            var line =
                body.Answers.Count == 0
                    ? "rate of every sided task in …"
                    : "weaker side needs 2 tasks that agree";
            Report(
                block,
                block.Name.Place,
                MeaningMessages.Missing(
                    $"The side difference {block.Name.Text} lacks a line.",
                    $"Add under it, for example: {line}"
                )
            );
        }
    }

    private bool CheckAgree(OutcomeBlock block, AgreeLine line, int tasksThere)
    {
        if (line.Tasks.Number is not { IsInteger: true, Sign: > 0 } number)
        {
            Report(
                line,
                line.Tasks.Place,
                NumberMessages.Number(
                    "So many tasks can't agree.",
                    "Write a whole number from 1; 2 is usual."
                )
            );
            return false;
        }

        if (number <= tasksThere)
        {
            return true;
        }

        Report(
            line,
            line.Tasks.Place,
            ScoreMessages.Sides(
                $"{number} tasks can't agree: {block.Name.Text} has {tasksThere}.",
                "Ask for fewer, or let more tasks be given for both sides."
            )
        );
        return false;
    }

    private List<BoundSide>? Sided(SidedAnswersLine line)
    {
        var found = new List<BoundSide>();
        foreach (var (task, place) in TasksOf(line, line.Section, line.Tasks) ?? [])
        {
            var response = task.Responses.FirstOrDefault(r => r.Name == line.Response.Text);
            var isSided = task.IsSided && task.Variants.Count == 2;
            if (line.Section is not null && (!isSided || response is null))
            {
                continue;
            }

            if (!isSided || response is null)
            {
                Report(
                    line,
                    place,
                    ScoreMessages.Sides(
                        isSided
                            ? $"{task.Name} has no answer called {line.Response.Text}."
                            : $"{task.Name} isn't given for both sides.",
                        isSided
                            ? "Check the name of the answer."
                            : "Write each side right, left at the task, or leave it out here."
                    )
                );
                return null;
            }

            if (!CheckBetter(line, response, task, place))
            {
                return null;
            }

            found.Add(new BoundSide(task, response, place));
        }

        if (found.Count > 0)
        {
            return found;
        }

        if (line.Section is { } section && !names.HasBrokenTasks(section.Text) && names.Knows(section))
        {
            Report(
                line,
                line.Place,
                ScoreMessages.Sides(
                    $"No task in {section.Text} is given for both sides and has an answer called {line.Response.Text}.",
                    "Write each side right, left at the tasks to compare, or check the names."
                )
            );
        }

        return null;
    }

    private bool CheckBetter(SidedAnswersLine line, Response response, ProtocolTask task, Place place)
    {
        if (response.HasOptions)
        {
            Report(
                line,
                line.Response.Place,
                NumberMessages.NotANumber($"{task.Name}.{response.Name}", response.Options[0].Name)
            );
            return false;
        }

        if (response.Better is Better.Higher or Better.Lower)
        {
            return true;
        }

        Report(
            line,
            place,
            ScoreMessages.Sides(
                $"Nothing says whether higher or lower is better in {task.Name}, so neither side is the weaker one.",
                "Say it at the scale or the answer."
            )
        );
        return false;
    }

    private List<BoundSide>? Directions(DirectionsLine line)
    {
        var found = new List<BoundSide>();
        foreach (var (task, place) in TasksOf(line, line.Section, line.Tasks) ?? [])
        {
            var response = task.Responses.FirstOrDefault(r => r.Kind == ResponseKind.Direction);
            var saysSide = response is { WeakSide: not WeakSide.Unstated };
            if (line.Section is not null && !saysSide)
            {
                continue;
            }

            if (!saysSide)
            {
                Report(
                    line,
                    place,
                    ScoreMessages.Sides(
                        response is null
                            ? $"{task.Name} doesn't ask for a direction."
                            : $"Nothing says which side is weak when {task.Name} moves off to one.",
                        response is null
                            ? "Leave it out here, or add a direction line to the task."
                            : "Write at the task: direction, weak side same; or weak side opposite."
                    )
                );
                return null;
            }

            found.Add(new BoundSide(task, response!, place));
        }

        return found;
    }

    private List<(ProtocolTask, Place)>? TasksOf(Statement line, Word? section, IReadOnlyList<Word> named)
    {
        if (section is not null)
        {
            return names.RequireSection(section, line.Source) is null
                ? null
                : [.. tasks.In(section.Text).Select(t => (t, line.Place))];
        }

        var found = new List<(ProtocolTask, Place)>();
        foreach (var word in named)
        {
            if (names.RequireTask(word, line.Source) is { } task)
            {
                found.Add((task, word.Place));
            }
        }

        return found.Count == named.Count ? found : null;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
