using ProtocolKit.Model;

namespace ProtocolKit.Proof.Sampling;

/// <summary>What records are wanted for: those that come to it are counted and drawn.</summary>
public abstract record RecordTarget
{
    private RecordTarget() { }

    /// <summary>Every record.</summary>
    public sealed record Any : RecordTarget;

    /// <summary>A measure or score has exactly this value, in its unit.</summary>
    /// <param name="Outcome">Its name; it has a step.</param>
    public sealed record Total(string Outcome, Rational Value) : RecordTarget;

    /// <summary>A measure or score lies between two values, both included and both in its unit.</summary>
    public sealed record Between(string Outcome, Rational Low, Rational High) : RecordTarget;

    /// <summary>A cut-off table gives this band.</summary>
    /// <param name="Outcome">The measure or score the table is of.</param>
    /// <param name="Name">The band's name, or <c>undecided</c>, <c>not applicable</c> or <c>blocked</c>.</param>
    public sealed record Band(string Outcome, string Name) : RecordTarget;

    /// <summary>This is the first action that applies.</summary>
    public sealed record Headline(string Action) : RecordTarget;

    /// <summary>This action surely applies, be it the first or not.</summary>
    public sealed record Includes(string Action) : RecordTarget;

    /// <summary>No action surely applies.</summary>
    public sealed record NoAction : RecordTarget;

    /// <summary>A claim is broken: its premise surely holds and its conclusion surely doesn't (core.md R21).</summary>
    /// <param name="Claim">Its text.</param>
    public sealed record Breaks(string Claim) : RecordTarget;

    /// <summary>What a table says where it gives no band, in the order of the program's codes after the bands.</summary>
    internal static readonly IReadOnlyList<string> NoBand =
    [
        "undecided",
        "not applicable",
        "blocked",
        "in no band",
    ];

    /// <summary>The lines that decide, and what they must come to, for records of one form.</summary>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    internal (int[] Lines, Func<IReadOnlyList<long>, bool> Fits) In(ScoringProgram program, bool shortForm) =>
        this switch
        {
            Total total => InRange(program, total.Outcome, total.Value, total.Value),
            Between between => InRange(program, between.Outcome, between.Low, between.High),
            Band band => InBand(program, band, shortForm),
            Headline headline => ([program.HeadlineLine], v => v[0] == ActionAt(program, headline.Action)),
            Includes includes => (
                [program.Actions[ActionAt(program, includes.Action)].AppliesLine],
                static v => v[0] == 1
            ),
            NoAction => ([.. program.Actions.Select(a => a.AppliesLine)], static v => v.All(a => a == 0)),
            Breaks breaks => (LinesOf(program, breaks), static v => v[0] == 1 && v[1] == 1),
            _ => ([], static _ => true),
        };

    internal static OutcomeLines OutcomeOf(ScoringProgram program, string name) =>
        program.Outcomes.FirstOrDefault(o => o.Outcome.Name == name && o.LowDenominatorLine < 0)
        ?? throw new ArgumentException($"There is no {name} with a step.", nameof(name));

    /// <summary>The table of an outcome for a form; null where there is none.</summary>
    internal static BandLine? TableOf(ScoringProgram program, string outcome, bool shortForm)
    {
        var tables = program.Bands.Where(b => b.Table.Outcome.Name == outcome).ToList();
        return tables.Find(b => b.Table.ShortForm == shortForm) ?? (tables.Count == 1 ? tables[0] : null);
    }

    private static (int[], Func<IReadOnlyList<long>, bool>) InRange(
        ScoringProgram program,
        string outcome,
        Rational low,
        Rational high
    )
    {
        var lines = OutcomeOf(program, outcome);
        return (
            [lines.StateLine, lines.LowLine, lines.HighLine],
            v => v[0] == 0 && low <= v[1] * lines.Scale && v[2] * lines.Scale <= high
        );
    }

    private static (int[], Func<IReadOnlyList<long>, bool>) InBand(
        ScoringProgram program,
        Band band,
        bool shortForm
    )
    {
        var table =
            TableOf(program, band.Outcome, shortForm)
            ?? throw new ArgumentException($"There are no cut-offs of {band.Outcome}.", nameof(band));
        var names = table.Table.Bands.Select(b => b.Name).Concat(NoBand).ToList();
        var wanted = names.IndexOf(band.Name);
        return wanted < 0
            ? throw new ArgumentException($"{band.Outcome} has no band {band.Name}.", nameof(band))
            : ([table.Line], v => v[0] == wanted);
    }

    private static int[] LinesOf(ScoringProgram program, Breaks broken)
    {
        var claim =
            program.Claims.FirstOrDefault(c => c.Claim.Text == broken.Claim)
            ?? throw new ArgumentException($"There is no claim “{broken.Claim}”.", nameof(broken));
        return [claim.PremiseLine, claim.ConclusionFailsLine];
    }

    private static int ActionAt(ScoringProgram program, string name)
    {
        for (var i = 0; i < program.Actions.Count; i++)
        {
            if (program.Actions[i].Action.Name == name)
            {
                return i;
            }
        }

        throw new ArgumentException($"There is no action {name}.", nameof(name));
    }
}
