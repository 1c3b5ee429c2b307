using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>How often a task is tried, when a further trial is given, and which one counts.</summary>
internal sealed class TrialBinder(Declarations declared, DiagnosticBag diagnostics)
{
    public TrialPlan Bind(
        TaskBlock block,
        TaskBody body,
        Func<bool, Environment> of,
        List<Response> responses,
        out Word? keepBy,
        out SourceText keepSource
    )
    {
        keepBy = null;
        keepSource = block.Source;
        var (line, own) = body.First<TrialsLine>();
        if (line is null)
        {
            return new TrialPlan(1, Keep.Only, null, null);
        }

        keepSource = line.Source;
        var environment = of(own);
        if (environment.Number(line.Count, line.Source) is not { } count)
        {
            return new TrialPlan(1, Keep.Only, null, null);
        }

        if (!count.IsInteger || count < 1 || count > 50)
        {
            Report(
                line,
                line.Count.Place,
                NumberMessages.Number(
                    $"A task can't have {count} trials.",
                    "Write a whole number from 1 to 50."
                )
            );
            return new TrialPlan(1, Keep.Only, null, null);
        }

        if (line.SaysTwice)
        {
            Report(line, line.Place, MeaningMessages.SaidTwice());
        }

        var trials = (int)count.Numerator;
        if (trials > 1 && line.Keep is null)
        {
            Report(
                line,
                line.Place,
                MeaningMessages.Trials(
                    "Nothing says which of these trials counts.",
                    "Add, for example, keep highest rate, or keep first."
                )
            );
            return new TrialPlan(trials, Keep.First, null, null);
        }

        var isBroken = declared.Values.IsBroken(block.Name.Text);
        if (line.Keep is { IsCombined: true } combined)
        {
            return new CombinedTrialBinder(diagnostics).Bind(
                line,
                combined,
                environment,
                responses,
                trials,
                isBroken
            );
        }

        if (line.Step is { } step)
        {
            Report(
                line,
                step.Place,
                MeaningMessages.Trials(
                    "A step belongs to a mean or a median of the trials; a kept trial is not rounded.",
                    "Remove the step."
                )
            );
        }

        keepBy = line.Keep?.By is { } by ? environment.Name(by, line.Source) : null;
        var keep = trials == 1 ? Keep.Only : Enum.Parse<Keep>(line.Keep!.How.Text, ignoreCase: true);
        return new TrialPlan(
            trials,
            keep,
            keepBy?.Text,
            Further(line, environment, responses, trials, isBroken)
        );
    }

    private FurtherTrial? Further(
        TrialsLine line,
        Environment environment,
        List<Response> responses,
        int trials,
        bool isBroken
    )
    {
        if (line.Second is not { } second)
        {
            if (line.UpTo)
            {
                Report(
                    line,
                    line.Place,
                    MeaningMessages.Trials(
                        "Nothing says when a further trial is given.",
                        "Add, for example, second when rate below 2."
                    )
                );
            }

            return null;
        }

        if (!line.UpTo || trials != 2)
        {
            Report(
                line,
                second.Response.Place,
                MeaningMessages.Trials(
                    "A second trial on a condition goes with trials up to 2.",
                    "Write trials up to 2, second when …"
                )
            );
            return null;
        }

        var name = environment.Name(second.Response, line.Source);
        var response = responses.Find(r => r.Name == name.Text);
        if (response is null || environment.Number(second.Below, line.Source) is not { } below)
        {
            // Where an answer of the task is broken, this may be the one.
            if (response is null && !isBroken)
            {
                Report(
                    line,
                    name.Place,
                    NameMessages.Part("This task", name.Text, [.. responses.Select(r => r.Name)])
                );
            }

            return null;
        }

        if (response.HasOptions)
        {
            Report(line, name.Place, NumberMessages.NotANumber(name.Text, response.Options[0].Name));
            return null;
        }

        return new FurtherTrial(name.Text, below);
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
