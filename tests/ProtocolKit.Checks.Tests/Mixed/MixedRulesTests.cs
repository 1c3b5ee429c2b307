using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests.Mixed;

/// <summary>
/// The rules where they meet: protocols drawn at random, sheets drawn at random, every value, band and action that a user sees
/// against a reference that works them out by hand. A failure names its seed.
/// </summary>
public sealed class MixedRulesTests
{
    private const int Protocols = 60;
    private const int Sheets = 60;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Random_protocols_say_of_random_sheets_what_the_rules_say(int seed)
    {
        var random = new Random(seed);
        var met = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < Protocols; i++)
        {
            var spec = MixedSpec.Draw(random);
            var compiled = Compiled.Fragment(spec.ToText());
            Assert.True(compiled.Compilation.Protocol is not null, compiled.Findings + spec.ToText());
            for (var n = 0; n < Sheets; n++)
            {
                var sheet = MixedSheet.Draw(spec, random);
                Compare(compiled, spec, sheet, met);
            }
        }

        // A drawing that no longer reaches what it is for would pass in silence.
        Assert.Superset(
            new HashSet<string>(StringComparer.Ordinal)
            {
                "known",
                "bounded",
                "not applicable",
                "blocked",
                "low",
                "middle",
                "high",
                "undecided",
                "an action undecided",
            },
            met
        );
    }

    private static void Compare(Compiled compiled, MixedSpec spec, MixedSheet sheet, HashSet<string> met)
    {
        var reference = new MixedReference(spec, sheet);
        var lines = compiled.Run(sheet.Fields(compiled));
        foreach (var (name, expected) in reference.Values)
        {
            var found = ValueOf(compiled, name, lines);
            Assert.True(
                expected == found,
                Told($"{name} is {expected} by the rules, but {found}", spec, sheet)
            );
            met.Add(
                expected.State switch
                {
                    0 => expected.IsExact ? "known" : "bounded",
                    1 => "not applicable",
                    _ => "blocked",
                }
            );
        }

        for (var i = 0; i < MixedSpec.Banded.Count; i++)
        {
            var (expected, found) = (reference.Band(i), compiled.Band(MixedSpec.Banded[i], lines));
            Assert.True(
                expected == found,
                Told(
                    $"The band of {MixedSpec.Banded[i]} is {expected} by the rules, but {found}",
                    spec,
                    sheet
                )
            );
            met.Add(expected);
        }

        foreach (var (name, expected) in reference.Actions())
        {
            var action = compiled.Program.Actions.Single(a => a.Action.Name == name);
            bool? found =
                lines[action.AppliesLine] == 1 ? true
                : lines[action.AppliesNotLine] == 1 ? false
                : null;
            Assert.True(
                expected == found,
                Told(
                    $"{name} is {expected?.ToString() ?? "undecided"} by the rules, but {found}",
                    spec,
                    sheet
                )
            );
            met.Add(expected is null ? "an action undecided" : "an action decided");
        }
    }

    private static Found ValueOf(Compiled compiled, string name, long[] lines)
    {
        var outcome = compiled.Program.Outcomes.Single(o => o.Outcome.Name == name);
        var state = (int)lines[outcome.StateLine];
        return state > 0
            ? Found.None(state)
            : new Found(0, Number(outcome, lines[outcome.LowLine]), Number(outcome, lines[outcome.HighLine]));
    }

    private static decimal Number(OutcomeLines outcome, long steps) =>
        (decimal)steps * (decimal)outcome.Scale.Numerator / (decimal)outcome.Scale.Denominator;

    private static string Told(string what, MixedSpec spec, MixedSheet sheet) =>
        $"{what}\n{sheet}\n{spec.ToText()}";
}
