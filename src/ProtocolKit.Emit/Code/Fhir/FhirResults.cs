using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// What a person sees of the scoring: an item a column of <see cref="ResultColumns"/>. Each stays empty until the record is
/// complete: an unguarded total of nothing would fall into a band.
/// </summary>
internal sealed class FhirResults
{
    public const string GroupId = "results";

    private readonly Protocol _protocol;
    private readonly ScoringProgram _program;
    private readonly FhirPlaces _places;
    private readonly FhirReading _reading;
    private readonly IReadOnlyList<string> _lines;
    private readonly string _problems;

    public FhirResults(
        Protocol protocol,
        FhirPlaces places,
        FhirReading reading,
        IReadOnlyList<string> lines,
        string problems
    )
    {
        (_protocol, _program, _places) = (protocol, protocol.Program, places);
        (_reading, _lines, _problems) = (reading, lines, problems);
        var reasons = Reasons();
        var group = places.Group(GroupId, "Results");
        foreach (var caution in CodeHeader.Cautions(protocol).Select((c, i) => (Text: c, Number: i + 1)))
        {
            group.Add(FhirItems.Item($"{GroupId}/caution-{caution.Number}", caution.Text, "display"));
        }

        foreach (var column in ResultColumns.Of(protocol).Where(c => IsShown(c.Part)))
        {
            Add(group, column, reasons);
        }
    }

    /// <summary>The link id of a result.</summary>
    public static string IdOf(ResultColumn column) => $"{GroupId}/{column.Name}";

    public static bool IsShown(ResultPart part) =>
        part is not (ResultPart.Case or ResultPart.AgeMonths or ResultPart.Form);

    private void Add(JsonObject group, ResultColumn column, string reasons)
    {
        var outcome = _program.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        var (type, expression) = column.Part switch
        {
            ResultPart.State => (
                "string",
                At(outcome!.StateLine) + Words(Enum.GetValues<State>().Select(s => s.ToWords()))
            ),
            ResultPart.Low => End(outcome!, outcome!.LowLine),
            ResultPart.LowOver => Over(outcome!, outcome!.LowDenominatorLine),
            ResultPart.High => End(outcome!, outcome!.HighLine),
            ResultPart.HighOver => Over(outcome!, outcome!.HighDenominatorLine),
            ResultPart.Band => ("string", Band(column.Subject)),
            ResultPart.Action => ("string", Action(column.Subject)),
            ResultPart.Headline => ("string", Headline()),
            ResultPart.Reasons => ("string", reasons),
            _ => ("string", _problems),
        };
        var item = FhirItems.Item(IdOf(column), Text(column, outcome), type);
        if (column.Part is ResultPart.Low or ResultPart.High && !ResultColumns.IsFraction(outcome!))
        {
            item.InUnit(outcome!.Outcome.Unit);
        }

        var guarded =
            column.Part == ResultPart.Errors ? expression : $"iif({_problems}.empty(), {expression}, {{}})";
        group.Add(item.Calculated(guarded, About(column, outcome)));
    }

    private const string NotBlank = ".select(iif($this = '', {}, $this))";

    private string Text(ResultColumn column, OutcomeLines? outcome)
    {
        var title = outcome?.Outcome.Title ?? "";
        return column.Part switch
        {
            ResultPart.State => $"{title}: known or not",
            ResultPart.Low => $"{title}: at least",
            ResultPart.LowOver => $"{title}: at least, divided by",
            ResultPart.High => $"{title}: at most",
            ResultPart.HighOver => $"{title}: at most, divided by",
            ResultPart.Band => $"{title}: band",
            ResultPart.Action => ActionText(column.Subject),
            ResultPart.Headline => "The most severe action that applies",
            ResultPart.Reasons => "What was not tried",
            _ => "What is missing or wrong; until it is mended nothing is scored",
        };
    }

    private string ActionText(string name)
    {
        var action = _program.Actions.First(a => a.Action.Name == name).Action;
        return action.Urgency is { } urgency ? $"{action.Title} ({urgency})" : action.Title;
    }

    private string About(ResultColumn column, OutcomeLines? outcome)
    {
        if (column.Part == ResultPart.Band)
        {
            var tables = _protocol.CutOffs.Where(t => t.Outcome.Name == column.Subject);
            return string.Join(
                "; ",
                tables.Select(t =>
                    $"{string.Join(" | ", t.Bands.Select(b => $"{b.Name}: {b.Text}"))}, {(t.Basis.IsProvisional ? "provisional, " : "")}{t.Basis.Text}"
                )
            );
        }

        return outcome is null ? column.Name : $"{column.Name}: {outcome.Outcome.Formula}";
    }

    private (string Type, string Expression) End(OutcomeLines outcome, int line)
    {
        var (above, below) = (outcome.Scale.Numerator, outcome.Scale.Denominator);
        var number = above == 1 ? At(line) : FormattableString.Invariant($"{At(line)} * {above}");
        var isWhole = ResultColumns.IsFraction(outcome) || below == 1;
        var value = isWhole ? number : FormattableString.Invariant($"{number} / {below}");
        return (isWhole ? "integer" : "decimal", $"iif({At(outcome.StateLine)} = 0, {value}, {{}})");
    }

    private (string Type, string Expression) Over(OutcomeLines outcome, int by)
    {
        var below = outcome.Scale.Denominator;
        var value =
            by < 0
                ? FormattableString.Invariant($"{below}")
                : FormattableString.Invariant($"{At(by)} * {below}");
        return ("integer", $"iif({At(outcome.StateLine)} = 0, {value}, {{}})");
    }

    private string Band(string name)
    {
        var text = "{}";
        foreach (var band in _program.Bands.Where(b => b.Table.Outcome.Name == name))
        {
            IEnumerable<string> words =
            [
                .. band.Table.Bands.Select(b => b.Name),
                "undecided",
                "not applicable",
                "blocked",
                "no band",
            ];
            var form = band.Table.ShortForm ? 1 : 0;
            text = FormattableString.Invariant(
                $"iif({_reading.Fields[_program.FormField]} = {form}, {At(band.Line)}{Words(words)}, {text})"
            );
        }

        return text;
    }

    private string Action(string name)
    {
        var lines = _program.Actions.First(a => a.Action.Name == name);
        return $"iif({At(lines.AppliesLine)}, 'applies', iif({At(lines.AppliesNotLine)}, 'applies not', 'undecided'))";
    }

    private string Headline() =>
        _program.HeadlineLine < 0 || _program.Actions.Count == 0
            ? "{}"
            : At(_program.HeadlineLine) + Words(_program.Actions.Select(a => a.Action.Name));

    /// <summary>A variable for each answer that may be untried, in words; then all of them by the value they matter to.</summary>
    private string Reasons()
    {
        var words = Enum.GetValues<State>().Select(s => s.ToWords());
        var said = _program.Kept.ToDictionary(
            k => k.Key,
            k =>
                _places.Variables.Add(
                    k.Key + ".untried",
                    "in words, or nothing",
                    $"{At(k.StateLine)}.where($this >= 2).select({FhirText.Quote(k.Key + " ")} & $this{Words(words)})"
                ),
            StringComparer.Ordinal
        );
        var all = new List<string>();
        foreach (var outcome in _program.Outcomes)
        {
            var reads = ProgramReads.Of(_program, outcome).Select(k => said[k.Key]).ToList();
            if (reads.Count > 0)
            {
                var start = FhirText.Quote(outcome.Outcome.Name + ": ");
                all.Add(
                    _places.Variables.Add(
                        outcome.Outcome.Name + ".reason",
                        "what was not tried",
                        Joined(reads, start)
                    )
                );
            }
        }

        return all.Count == 0 ? "{}" : Joined(all, "''");
    }

    private static string Joined(List<string> parts, string start) =>
        parts[0]
        + string.Concat(parts.Skip(1).Select(p => $".combine({p})"))
        + $".aggregate(iif($total = '', '', $total & '; ') & {start} & $this, ''){NotBlank}";

    /// <summary>The word of a number from 0 on; nothing for a number below.</summary>
    private static string Words(IEnumerable<string> words)
    {
        var rest = words
            .Select((w, i) => (Word: w, Number: i))
            .Reverse()
            .Aggregate(
                "{}",
                (otherwise, w) =>
                    FormattableString.Invariant(
                        $"iif($this = {w.Number}, {FhirText.Quote(FhirText.Of(w.Word))}, {otherwise})"
                    )
            );
        return $".select({rest})";
    }

    private string At(int line) => _lines[line];
}
