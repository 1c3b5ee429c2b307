using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>The ladder of help of a task: where it starts, what each rung touches and what it costs.</summary>
internal sealed class HelpBinder(VocabularyBinder vocabulary, DiagnosticBag diagnostics)
{
    public List<HelpRung> Bind(
        TaskBlock block,
        TaskBody body,
        Func<bool, Environment> of,
        List<Response> responses,
        TrialPlan trials
    )
    {
        var rungs = new List<HelpRung>();
        foreach (var (line, own) in body.Of<HelpLine>())
        {
            var bound = new List<HelpRung>(line.Rungs.Count);
            foreach (var rung in line.Rungs)
            {
                bound.Add(Rung(rung, line, of(own)));
            }

            Check(line, bound, responses, trials);
            CheckAllowed(block, line, body, responses);
            rungs.AddRange(bound);
        }

        return rungs;
    }

    private HelpRung Rung(HelpRungValue rung, HelpLine line, Environment environment)
    {
        var contact = rung.Contact is null
            ? Contact.None
            : vocabulary.ContactOf(environment.Name(rung.Contact, line.Source), line.Source) ?? Contact.None;
        var cost = rung.Cost is null ? null : environment.Number(rung.Cost, line.Source);
        return new HelpRung(rung.Text, contact) { Cost = cost ?? Rational.Zero, IsStart = rung.IsStart };
    }

    private void Check(HelpLine line, List<HelpRung> rungs, List<Response> responses, TrialPlan trials)
    {
        var start = rungs.FindIndex(r => r.IsStart);
        if (rungs.FindLastIndex(r => r.IsStart) != start)
        {
            Report(line, line.Rungs[rungs.FindLastIndex(r => r.IsStart)].Place, MeaningMessages.SaidTwice());
        }

        for (var i = 0; i < rungs.Count; i++)
        {
            var place = line.Rungs[i].Cost?.Place ?? line.Rungs[i].Place;
            if (rungs[i].Cost.Sign < 0 || (i <= start && rungs[i].Cost.Sign != 0))
            {
                Report(
                    line,
                    place,
                    ScoreMessages.Help(
                        i <= start
                            ? $"“{rungs[i].Text}” is how the task begins, so it costs nothing."
                            : "Help can't cost less than nothing.",
                        "Remove this cost."
                    )
                );
                return;
            }

            if (i > 0 && rungs[i].Cost < rungs[i - 1].Cost)
            {
                Report(
                    line,
                    place,
                    ScoreMessages.Help(
                        $"“{rungs[i].Text}” helps more than “{rungs[i - 1].Text}” and costs less.",
                        $"Let it cost at least {rungs[i - 1].Cost}, or put the rungs in order from the least help to the most."
                    )
                );
                return;
            }
        }

        if (rungs.Exists(r => r.Cost.Sign > 0))
        {
            CheckRating(line, rungs, responses, trials);
        }
    }

    /// <summary>A cost is taken off the points of a kept rating, and stays on its scale's step.</summary>
    private void CheckRating(HelpLine line, List<HelpRung> rungs, List<Response> responses, TrialPlan trials)
    {
        var ratings = responses.Where(r => r.Kind == ResponseKind.Rating).ToList();
        if (ratings.Count == 0 || ratings.Exists(r => r.Better is not (Better.Higher or Better.Lower)))
        {
            Report(
                line,
                line.Place,
                ScoreMessages.Help(
                    "A cost is taken off a rating, and here is none that says whether higher or lower is better.",
                    "Remove the cost, or rate the task on such a scale."
                )
            );
        }
        else if (trials.IsCombined)
        {
            Report(
                line,
                line.Place,
                ScoreMessages.Help(
                    "A cost is taken off a kept trial, but this task puts its trials together.",
                    "Keep one trial, or remove the cost."
                )
            );
        }

        foreach (var rating in ratings)
        {
            for (var i = 0; i < rungs.Count; i++)
            {
                if (!rungs[i].Cost.TryCountSteps(rating.Step, out _))
                {
                    Report(
                        line,
                        line.Rungs[i].Cost!.Place,
                        NumberMessages.OffStep(rungs[i].Cost, rating.Step)
                    );
                    return;
                }
            }
        }
    }

    private void CheckAllowed(TaskBlock block, HelpLine line, TaskBody body, List<Response> responses)
    {
        var senses = body.First<SensesLine>().Line is not null;
        if (!senses && !responses.Exists(r => r.Kind == ResponseKind.Time))
        {
            return;
        }

        // The family's line may forbid what the task allows: point to the task.
        var isOwn = block.Body.Contains(line);
        diagnostics.Report(
            isOwn ? line.Source : block.Source,
            isOwn ? line.Place : block.Name.Place,
            CareMessages.NoHelp(block.Name.Text, senses)
        );
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
