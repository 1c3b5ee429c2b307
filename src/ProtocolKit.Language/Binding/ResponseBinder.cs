using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>One answer line into a response with bounds on its step.</summary>
internal sealed class ResponseBinder(
    VocabularyBinder vocabulary,
    Declarations declared,
    DiagnosticBag diagnostics
)
{
    public Response? Bind(ResponseLine line, Environment environment, bool qualitative)
    {
        var response = line.Kind switch
        {
            ResponseKind.Rating => Rating(line, environment),
            ResponseKind.Count => Number(line, environment, Rational.One),
            ResponseKind.Time or ResponseKind.Quantity => Measured(line, environment),
            ResponseKind.YesNo => Options(
                line,
                environment,
                [new Option("no", "No"), new Option("yes", "Yes")]
            ) with
            {
                Question = line.Question is { } question
                    ? environment.Text(question, line.Source, NoWords)
                    : null,
            },
            ResponseKind.Direction => Options(
                line,
                environment,
                [
                    new Option("middle", "Stays in the middle"),
                    new Option("right", "To the child's right"),
                    new Option("left", "To the child's left"),
                ]
            ),
            _ => Choice(line, environment),
        };
        return response is null ? null : Clauses(response, line, environment, qualitative);
    }

    /// <summary>Its own name, or the word its line begins with.</summary>
    private string NameOf(ResponseLine line, Environment environment)
    {
        if (line.Name is not { } own)
        {
            return line.Keyword.Text;
        }

        var name = environment.Name(own, line.Source);
        NameSpelling.Check(name, line.Source, diagnostics);
        return name.Text;
    }

    private Response? Rating(ResponseLine line, Environment environment)
    {
        var name = environment.Name(line.Scale!, line.Source);
        if (
            declared.Scales.Require(name, line.Source) is null
            || !vocabulary.Scales.TryGetValue(name.Text, out var scale)
        )
        {
            return null;
        }

        return new Response
        {
            Name = NameOf(line, environment),
            Kind = line.Kind,
            Origin = line.Source.OriginOf(line.Place),
            Scale = scale,
            Low = scale.Levels[^1].Points,
            High = scale.Levels[0].Points,
            Step = scale.Step,
            Better = scale.Better,
        };
    }

    private Response? Measured(ResponseLine line, Environment environment)
    {
        if (environment.Number(line.Step!, line.Source) is not { } step)
        {
            return null;
        }

        if (step.Sign <= 0)
        {
            Report(
                line,
                line.Step!.Place,
                NumberMessages.Number("A step must be larger than zero.", "Write a step such as 0.1 or 1.")
            );
            return null;
        }

        var unit = Units.Bind(line.Unit!, line.Source, diagnostics);
        if (line.Kind == ResponseKind.Time && unit is not null && unit.Dimension != "s")
        {
            Report(line, line.Unit!.Place, NumberMessages.NoDuration(unit.ToString()));
        }

        return unit is null ? null : Number(line, environment, step, unit);
    }

    /// <param name="unit">Null: that of what is counted.</param>
    private Response? Number(ResponseLine line, Environment environment, Rational step, Unit? unit = null)
    {
        if (Range(line, line.Range!, environment, step) is not var (low, high))
        {
            return null;
        }

        if (low.Sign < 0 && line.Kind != ResponseKind.Quantity)
        {
            Report(
                line,
                line.Range!.Place,
                NumberMessages.Number("A count or a time can't be below 0.", "Let it begin at 0 or more.")
            );
            return null;
        }

        var name = NameOf(line, environment);
        return new Response
        {
            Name = name,
            Kind = line.Kind,
            Origin = line.Source.OriginOf(line.Place),
            Low = low,
            High = high,
            Step = step,
            Unit = unit ?? Unit.Tag(name),
        };
    }

    private (Rational Low, Rational High)? Range(
        ResponseLine line,
        NumberSpan span,
        Environment environment,
        Rational step
    )
    {
        if (
            environment.Number(span.From, line.Source) is not { } low
            || environment.Number(span.To, line.Source) is not { } high
        )
        {
            return null;
        }

        if (low > high)
        {
            Report(line, span.Place, NumberMessages.Backwards(low.ToString(), high.ToString()));
            return null;
        }

        foreach (var (value, place) in new[] { (low, span.From.Place), (high, span.To.Place) })
        {
            if (!value.TryCountSteps(step, out var count))
            {
                Report(line, place, NumberMessages.OffStep(value, step));
                return null;
            }

            if (System.Numerics.BigInteger.Abs(count) > ScoringProgram.Limit)
            {
                Report(line, place, NumberMessages.Limit(TaskBody.NameOf(line)));
                return null;
            }
        }

        return (low, high);
    }

    private Response Options(ResponseLine line, Environment environment, IReadOnlyList<Option> options) =>
        new()
        {
            Name = NameOf(line, environment),
            Kind = line.Kind,
            Origin = line.Source.OriginOf(line.Place),
            Options = options,
            High = options.Count - 1,
        };

    private Response? Choice(ResponseLine line, Environment environment)
    {
        if (line.Incomplete)
        {
            return null;
        }

        if (line.Options.Count < 2)
        {
            Report(
                line,
                line.Place,
                MeaningMessages.Missing(
                    "A choice needs at least two options.",
                    "Write a line an option under it: a name, then the text in quotes."
                )
            );
            return null;
        }

        var options = new List<Option>();
        foreach (var option in line.Options)
        {
            NameSpelling.Check(option.Name, option.Source, diagnostics);
            if (States.Untried.Any(u => u.Code == option.Name.Text))
            {
                Report(option, option.Name.Place, NameMessages.Twice("option or code", option.Name.Text));
                continue;
            }

            if (options.Exists(o => o.Name == option.Name.Text))
            {
                var first = line.Options.First(o => o.Name.Text == option.Name.Text);
                diagnostics.Clash(
                    (option.Source, option.Name.Place),
                    (first.Source, first.Name.Place),
                    NameMessages.Twice("option or code", option.Name.Text)
                );
                continue;
            }

            options.Add(new Option(option.Name.Text, environment.Text(option.Text, option.Source, NoWords)));
        }

        return Options(line, environment, options);
    }

    private static readonly Dictionary<string, string> NoWords = [];

    private Response Clauses(Response response, ResponseLine line, Environment environment, bool qualitative)
    {
        response = qualitative ? response with { Qualitative = true } : response;
        var seen = line.Clauses.Count > 1 ? new HashSet<Type>() : null;
        foreach (var clause in line.Clauses)
        {
            if (seen is not null && !seen.Add(clause.GetType()))
            {
                Report(line, clause.Place, MeaningMessages.SaidTwice());
            }

            response = clause switch
            {
                QualitativeClause => response with { Qualitative = true },
                BetterClause better when response.IsNumber => response with
                {
                    Better = VocabularyBinder.BetterOf(better.Which),
                },
                SpansClause spans when response.Kind == ResponseKind.Count => response with
                {
                    Spans = spans.What.Text == "onsets" ? Spans.Onsets : Spans.Intervals,
                },
                UnitClause unit when response.Kind == ResponseKind.Count => response with
                {
                    Unit = Units.Bind(unit.Unit, line.Source, diagnostics) ?? response.Unit,
                },
                WeakSideClause weak when response.Kind == ResponseKind.Direction => response with
                {
                    WeakSide = weak.Which.Text == "opposite" ? WeakSide.Opposite : WeakSide.Same,
                },
                PlausibleClause plausible when response.IsNumber => Plausible(
                    response,
                    line,
                    plausible,
                    environment
                ),
                _ => Misplaced(response, line, clause),
            };
        }

        return response;
    }

    private Response Plausible(
        Response response,
        ResponseLine line,
        PlausibleClause clause,
        Environment environment
    ) =>
        Range(line, clause.Range, environment, response.Step) is var (low, high)
            ? response with
            {
                PlausibleLow = low,
                PlausibleHigh = high,
            }
            : response;

    private Response Misplaced(Response response, ResponseLine line, ResponseClause clause)
    {
        Report(
            line,
            clause.Place,
            NumberMessages.Number(
                $"This doesn't go with a line that begins with {line.Keyword.Text}.",
                "Remove it, or ask for another kind of answer."
            )
        );
        return response;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}

/// <summary>Units as written into units as types.</summary>
internal static class Units
{
    public static Unit? Bind(UnitValue value, SourceText source, DiagnosticBag diagnostics)
    {
        if (Misspelt(value.Above, source, diagnostics) || Misspelt(value.Below, source, diagnostics))
        {
            return null;
        }

        return Unit.Of(value.Above.Select(w => w.Text), value.Below.Select(w => w.Text));
    }

    private static bool Misspelt(IReadOnlyList<Word> atoms, SourceText source, DiagnosticBag diagnostics)
    {
        foreach (var atom in atoms)
        {
            if (Unit.SuggestFor(atom.Text) is { } better)
            {
                diagnostics.Report(source, atom.Place, NumberMessages.UnitSpelling(atom.Text, better));
                return true;
            }
        }

        return false;
    }
}
