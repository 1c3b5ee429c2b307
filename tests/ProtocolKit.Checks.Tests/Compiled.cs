using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// The side under test: a text compiled, and its program run on records. What it should give is worked out elsewhere, by code that
/// uses none of this.
/// </summary>
internal sealed class Compiled
{
    private Compiled(Compilation compilation) => Compilation = compilation;

    public Compilation Compilation { get; }
    public Protocol Protocol => Compilation.Protocol ?? throw new InvalidOperationException(Findings);
    public ScoringProgram Program => Protocol.Program;
    public string Findings => string.Concat(Compilation.Diagnostics.Select(DiagnosticText.Render));

    public static Compiled Text(string text) =>
        new(Compilation.Of(new SourceText("check.protocol", text), new NoModules()));

    public static Compiled Fragment(string fragment, string ages = FragmentPrelude.Ages) =>
        Text(FragmentPrelude.Before(fragment, ages));

    public IEnumerable<Diagnostic> Of(string code) => Compilation.Diagnostics.Where(d => d.Code == code);

    /// <summary>A record with every answer given at the least of its field, at the youngest age, in the full form.</summary>
    public long[] Lowest()
    {
        var fields = Program.Fields.Select(f => f.Low).ToArray();
        fields[Program.AgeField] = Protocol.Ages.From.Months;
        return fields;
    }

    /// <summary>Every complete record, one array used again and again.</summary>
    public IEnumerable<long[]> Records()
    {
        var fields = Lowest();
        var answers = Program.Answers;
        while (true)
        {
            yield return fields;
            var at = 0;
            while (at < answers.Count)
            {
                var field = answers[at].ValueField;
                if (fields[field] < Program.Fields[field].High)
                {
                    fields[field]++;
                    break;
                }

                fields[field] = Program.Fields[field].Low;
                at++;
            }

            if (at == answers.Count)
            {
                yield break;
            }
        }
    }

    public long[] Run(long[] fields) => Evaluator.Run(Program, fields);

    /// <summary>An exact value of a measure or score.</summary>
    public Rational Value(string name, long[] lines)
    {
        var outcome = Program.Outcomes.Single(o => o.Outcome.Name == name);
        Assert.Equal(0, lines[outcome.StateLine]);
        Assert.Equal(lines[outcome.LowLine], lines[outcome.HighLine]);
        return new Rational(lines[outcome.LowLine], 1) * outcome.Scale;
    }

    /// <summary>Both ends.</summary>
    public (Rational Low, Rational High) Ends(string name, long[] lines)
    {
        var outcome = Program.Outcomes.Single(o => o.Outcome.Name == name);
        return (lines[outcome.LowLine] * outcome.Scale, lines[outcome.HighLine] * outcome.Scale);
    }

    public SortedSet<Rational> Set(string name) => [.. Records().Select(r => Value(name, Run(r)))];

    /// <summary>The band's name, or undecided, not applicable, blocked, no band.</summary>
    public string Band(string name, long[] lines)
    {
        var band = Program.Bands.Single(b => b.Table.Outcome.Name == name && !b.Table.ShortForm);
        string[] names =
        [
            .. band.Table.Bands.Select(b => b.Name),
            "undecided",
            "not applicable",
            "blocked",
            "no band",
        ];
        return names[lines[band.Line]];
    }

    /// <summary>Names of the actions that surely apply.</summary>
    public IReadOnlyList<string> Actions(long[] lines) =>
        [.. Program.Actions.Where(a => lines[a.AppliesLine] == 1).Select(a => a.Action.Name)];

    /// <summary>Sets an answer by its key to a number of its field, or to a state.</summary>
    public void Set(long[] fields, string key, long value, State state = State.Known)
    {
        var slot = Program.Answers.Single(a => a.Key == key);
        fields[slot.ValueField] = value;
        fields[slot.StateField] = (long)state;
    }
}
