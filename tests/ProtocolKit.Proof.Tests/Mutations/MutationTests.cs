using System.Globalization;
using ProtocolKit.Language;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;
using ProtocolKit.Scoring;
using ProtocolKit.Solver;
using Xunit.Abstractions;

namespace ProtocolKit.Proof.Tests.Mutations;

/// <summary>
/// Single edits of the example's cut-offs and rules, picked by a seeded generator. Each is classified (refused, still holds, what
/// is found, or what is too large to prove) and the class confirmed by records: no random record may break what is said to hold, and what is said to be
/// broken is broken by the record shown and by records drawn from all that break it.
/// The whole run: <c>PROTOCOLKIT_MUTATIONS=200 dotnet test tests/ProtocolKit.Proof.Tests --filter Mutation --logger "console;verbosity=detailed"</c>.
/// </summary>
public sealed class MutationTests(ITestOutputHelper output)
{
    private const int Whole = 200;
    private const ulong Seed = 2026;
    private const int RandomRecords = 400;

    private static int Wanted =>
        int.TryParse(
            Environment.GetEnvironmentVariable("PROTOCOLKIT_MUTATIONS"),
            CultureInfo.InvariantCulture,
            out var count
        )
            ? count
            : 2;

    [Fact]
    public void What_the_proof_says_of_an_edit_is_what_records_show()
    {
        var example = Example.Read();
        var generator = new Xoshiro256(Seed);
        var cutOffs = generator.Shuffle(SingleEdits.OfCutOffs(example)).Take(Whole / 2).ToList();
        var rules = generator.Shuffle(SingleEdits.OfRules(example)).Take(Whole / 2).ToList();
        Assert.Equal(Whole, cutOffs.Count + rules.Count);
        var picked = rules.Zip(cutOffs).SelectMany(p => new[] { p.First, p.Second }).Take(Wanted).ToList();
        var broken = new HashSet<string>(StringComparer.Ordinal);
        var classes = new List<string>();
        foreach (var mutation in picked)
        {
            var class_ = Classify(mutation, broken);
            classes.Add(class_);
            Say($"{classes.Count}. {mutation.What}: {class_}");
        }

        foreach (var group in classes.GroupBy(c => c.Split(':')[0]).OrderByDescending(g => g.Count()))
        {
            Say($"{group.Count()} {group.Key}");
        }

        if (picked.Count == Whole)
        {
            var claims = example.Compile().Protocol!.Program.Claims.Select(c => c.Claim.Text).ToList();
            Assert.True(claims.Count >= 12);
            Assert.Empty(claims.Except(broken));
        }
    }

    /// <summary>Into the test's output and, where one is named, into a file line by line: the whole run takes long.</summary>
    private void Say(string line)
    {
        output.WriteLine(line);
        if (Environment.GetEnvironmentVariable("PROTOCOLKIT_MUTATIONS_REPORT") is { Length: > 0 } path)
        {
            File.AppendAllText(path, line + "\n");
        }
    }

    private static string Classify(Mutation mutation, HashSet<string> broken)
    {
        var compilation = mutation.Changed.Compile();
        if (compilation.Protocol is not { } protocol)
        {
            var errors = compilation.Diagnostics.Where(d => d.Severity == Severity.Error).Select(d => d.Code);
            return "refused: " + string.Join(' ', errors.Distinct());
        }

        var report = Prover.Prove(
            protocol,
            new ProofOptions(Sets: false, Counts: false) { Beyond = new CpSat() }
        );
        var seen = Seen(protocol);
        var claims = report.Findings.Where(f => f.Kind == ProofKind.ClaimFails).ToList();
        var found = protocol
            .Program.Claims.Where(c =>
                claims.Exists(f => f.Text.Contains($"“{c.Claim.Text}”", StringComparison.Ordinal))
            )
            .Select(c => c.Claim.Text)
            .ToList();
        broken.UnionWith(found);

        // What a random record breaks must have been found.
        Assert.True(
            seen.Claims.IsSubsetOf(found),
            $"{mutation.What}: random records break {string.Join(", ", seen.Claims.Except(found))}; found: "
                + string.Join("; ", report.Findings.Select(f => f.Text))
        );
        Assert.True(!seen.Gap || report.Findings.Any(f => f.Kind == ProofKind.Gap));
        Assert.True(!seen.NoAction || report.Findings.Any(f => f.Kind == ProofKind.NoAction));
        foreach (var finding in report.Findings)
        {
            Confirm(protocol, finding, found);
        }

        if (found.Count > 0)
        {
            Assert.True(DrawsThatBreak(protocol, found[0]) > 0);
        }

        var kinds = report.Findings.Select(f => f.Kind.ToString()).Distinct();
        return report.Findings.Count == 0 && report.NotProved.Count > 0
                ? $"not proved in part: {string.Join("; ", report.NotProved)}"
            : report.Findings.Count == 0 ? "still holds: no claim is broken"
            : $"found: {string.Join(", ", kinds)} {string.Join("; ", found)}";
    }

    private sealed record Breaches(HashSet<string> Claims, bool Gap, bool NoAction);

    private static Breaches Seen(Protocol protocol)
    {
        var program = protocol.Program;
        var claims = new HashSet<string>(StringComparer.Ordinal);
        var (gap, noAction) = (false, false);
        foreach (var fields in Testing.Records.Random(protocol, RandomRecords, Seed))
        {
            var age = new Age((int)fields[program.AgeField]);
            if (!protocol.Ages.Contains(age))
            {
                continue;
            }

            var lines = Evaluator.Run(program, fields);
            claims.UnionWith(
                program
                    .Claims.Where(c => lines[c.PremiseLine] == 1 && lines[c.ConclusionFailsLine] == 1)
                    .Select(c => c.Claim.Text)
            );
            gap |= program.Bands.Any(b =>
                b.Table.ShortForm == (fields[program.FormField] == 1)
                && lines[b.Line] == b.Table.Bands.Count + 3
            );
            noAction |= program.Actions.All(a => lines[a.AppliesLine] == 0);
        }

        return new Breaches(claims, gap, noAction);
    }

    /// <summary>The record shown does what is said of it, by scoring.</summary>
    private static void Confirm(Protocol protocol, ProofFinding finding, List<string> claims)
    {
        var program = protocol.Program;
        foreach (var sitting in finding.Sittings.Take(1))
        {
            var lines = Evaluator.Run(program, sitting.Fields);
            var shown = finding.Kind switch
            {
                ProofKind.ClaimFails => program.Claims.Any(c =>
                    claims.Contains(c.Claim.Text)
                    && lines[c.PremiseLine] == 1
                    && lines[c.ConclusionFailsLine] == 1
                ),
                ProofKind.Gap => program.Bands.Any(b => lines[b.Line] == b.Table.Bands.Count + 3),
                ProofKind.NoAction => program.Actions.All(a => lines[a.AppliesLine] == 0),
                _ => true,
            };
            Assert.True(shown, finding.Text);
        }
    }

    /// <summary>Drawn from all records that break a claim; each is scored by the sampler.</summary>
    private static int DrawsThatBreak(Protocol protocol, string claim)
    {
        var target = new RecordTarget.Breaks(claim);
        foreach (var untried in new[] { false, true })
        {
            foreach (var shortForm in new[] { true, false })
            {
                var drawn = new RecordSampler(protocol, null, shortForm, untried)
                    .Draw(target, 20, Seed)
                    .Count();
                if (drawn > 0)
                {
                    return drawn;
                }
            }
        }

        return 0;
    }
}
