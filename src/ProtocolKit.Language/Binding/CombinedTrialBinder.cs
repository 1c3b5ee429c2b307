using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Trials of which none is kept: the mean, median or sum of their one answer is.</summary>
internal sealed class CombinedTrialBinder(DiagnosticBag diagnostics)
{
    public TrialPlan Bind(
        TrialsLine line,
        KeepClause keep,
        Environment environment,
        List<Response> responses,
        int trials,
        bool isBroken
    )
    {
        var instead = new TrialPlan(trials, trials == 1 ? Keep.Only : Keep.First, null, null);
        if (line.UpTo || line.Second is not null)
        {
            Report(
                line,
                keep.Place,
                MeaningMessages.Trials(
                    $"A {keep.How.Text} is of all trials, but here some are only given when needed.",
                    $"Write trials {trials}, keep {keep.How.Text}; or keep highest, lowest or last."
                )
            );
            return instead;
        }

        if (Answer(line, keep, environment, responses, isBroken) is not { } response)
        {
            return instead;
        }

        var kind = Enum.Parse<Keep>(keep.How.Text, ignoreCase: true);
        var step = Step(line, environment);
        if (step is null && line.Step is not null)
        {
            return instead;
        }

        if (step is null && MayFallBetween(kind, trials, keep.OfThoseGiven))
        {
            Report(
                line,
                keep.Place,
                NumberMessages.Step($"The {keep.How.Text} of these trials", Why(kind, trials))
            );
            return instead;
        }

        return trials == 1
            ? instead
            : new TrialPlan(trials, kind, response.Name, null)
            {
                OfThoseGiven = keep.OfThoseGiven,
                Step = step,
            };
    }

    /// <summary>A sum never does, nor does the middle of an odd number; of those given there may be an even number.</summary>
    private static bool MayFallBetween(Keep kind, int trials, bool ofThoseGiven) =>
        trials > 1 && (kind == Keep.Mean || (kind == Keep.Median && (ofThoseGiven || trials % 2 == 0)));

    private static string Why(Keep kind, int trials) =>
        kind == Keep.Mean
            ? "a mean can fall between any two numbers"
            : $"the middle of {(trials % 2 == 0 ? trials : 2)} can fall half-way between two steps";

    private Response? Answer(
        TrialsLine line,
        KeepClause keep,
        Environment environment,
        List<Response> responses,
        bool isBroken
    )
    {
        var name = keep.By is { } by ? environment.Name(by, line.Source) : null;
        var response = name is null ? responses.FirstOrDefault() : responses.Find(r => r.Name == name.Text);
        if (response is null)
        {
            // Where an answer of the task is broken, this may be the one.
            if (!isBroken && name is not null)
            {
                Report(
                    line,
                    name.Place,
                    NameMessages.Part("This task", name.Text, [.. responses.Select(r => r.Name)])
                );
            }

            return null;
        }

        if (responses.Count > 1)
        {
            var others = string.Join(", ", responses.Where(r => r != response).Select(r => r.Name));
            Report(
                line,
                keep.Place,
                MeaningMessages.Trials(
                    $"With a {keep.How.Text} no trial is kept, so nothing says which {others} counts.",
                    "Give the other answers a task of their own, or keep a whole trial."
                )
            );
            return null;
        }

        if (response.HasOptions)
        {
            Report(
                line,
                name?.Place ?? keep.Place,
                NumberMessages.NotANumber(response.Name, response.Options[0].Name)
            );
            return null;
        }

        return response;
    }

    private Rational? Step(TrialsLine line, Environment environment)
    {
        if (line.Step is null || environment.Number(line.Step, line.Source) is not { } step)
        {
            return null;
        }

        if (step.Sign > 0)
        {
            return step;
        }

        Report(
            line,
            line.Step.Place,
            NumberMessages.Number("A step must be larger than zero.", "Write a step such as 0.1 or 1.")
        );
        return null;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
