using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>The answers of a questionnaire's calculated items as the reference works them out.</summary>
internal static class FhirCalculated
{
    /// <summary>By link id; items without a value are left out.</summary>
    public static Dictionary<string, JsonObject> Of(ScoredRecord scored, FhirCells cells)
    {
        var answers = new Dictionary<string, JsonObject>(StringComparer.Ordinal);
        var program = scored.Protocol.Program;
        foreach (var line in program.Giving.Select(g => g.GivenLine).Distinct())
        {
            var id = FhirPlaces.RouteId(program.Lines[line].Name);
            answers[id] = new JsonObject { ["valueBoolean"] = scored.Lines[line] == 1 };
        }

        var further = new FurtherTrials(program);
        foreach (var answer in program.Answers.Where(a => further.Of(a).After >= 0))
        {
            answers[FhirPlaces.RouteId(answer.Key + ".need")] = new JsonObject
            {
                ["valueInteger"] = cells.Need(answer),
            };
        }

        foreach (var column in ResultColumns.Of(scored.Protocol).Where(c => FhirResults.IsShown(c.Part)))
        {
            if (Value(column, scored) is { } value)
            {
                answers[FhirResults.IdOf(column)] = value;
            }
        }

        return answers;
    }

    private static JsonObject? Value(ResultColumn column, ScoredRecord scored)
    {
        var lines = scored.Protocol.Program.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        var result = scored.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        return column.Part switch
        {
            ResultPart.State => Words(result!.State.ToWords()),
            ResultPart.Low => End(lines!, lines!.LowLine, result!.Low, scored),
            ResultPart.LowOver => Over(lines!, lines!.LowDenominatorLine, scored),
            ResultPart.High => End(lines!, lines!.HighLine, result!.High, scored),
            ResultPart.HighOver => Over(lines!, lines!.HighDenominatorLine, scored),
            ResultPart.Band => Band(column.Subject, scored),
            ResultPart.Action => Words(scored.Actions.First(a => a.Action.Name == column.Subject).Word),
            ResultPart.Headline => scored.Headline is { } headline ? Words(headline.Name) : null,
            ResultPart.Reasons => Reasons(scored),
            _ => null,
        };
    }

    private static JsonObject Words(string text) => new() { ["valueString"] = FhirText.Of(text) };

    private static JsonObject? End(OutcomeLines lines, int line, Rational value, ScoredRecord scored)
    {
        if (scored.Lines[lines.StateLine] != 0)
        {
            return null;
        }

        return ResultColumns.IsFraction(lines)
                ? new JsonObject { ["valueInteger"] = scored.Lines[line] * (long)lines.Scale.Numerator }
            : lines.Scale.IsInteger ? new JsonObject { ["valueInteger"] = (long)value.Numerator }
            : new JsonObject { ["valueDecimal"] = FhirItems.Number(value) };
    }

    private static JsonObject? Over(OutcomeLines lines, int by, ScoredRecord scored) =>
        scored.Lines[lines.StateLine] != 0
            ? null
            : new() { ["valueInteger"] = (by < 0 ? 1 : scored.Lines[by]) * (long)lines.Scale.Denominator };

    private static JsonObject? Band(string name, ScoredRecord scored)
    {
        var band = scored.Bands.FirstOrDefault(b =>
            b.Table.Outcome.Name == name && b.Table.ShortForm == scored.Record.IsShortForm
        );
        return band is null ? null : Words(band.Word);
    }

    private static JsonObject? Reasons(ScoredRecord scored)
    {
        var program = scored.Protocol.Program;
        var reasons = program
            .Outcomes.SelectMany(o => ProgramReads.Of(program, o).Select(k => (o.Outcome.Name, Kept: k)))
            .Where(r => ((State)scored.Lines[r.Kept.StateLine]).IsUntried())
            .Select(r => $"{r.Name}: {r.Kept.Key} {((State)scored.Lines[r.Kept.StateLine]).ToWords()}")
            .ToList();
        return reasons.Count == 0 ? null : Words(string.Join("; ", reasons));
    }
}
