using System.Globalization;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;
using ProtocolKit.Proof.Tests.Mutations;
using ProtocolKit.Scoring;
using Xunit.Abstractions;

namespace ProtocolKit.Proof.Tests.Sampling;

/// <summary>
/// No record, however drawn, comes to a value outside the proved sets. The whole run, a million records
/// of the example and as many of generated protocols:
/// <c>PROTOCOLKIT_RECORDS=1000000 dotnet test tests/ProtocolKit.Proof.Tests --filter Inside --logger "console;verbosity=detailed"</c>.
/// </summary>
public sealed class InsideTests(ITestOutputHelper output)
{
    private const int Few = 2_000;

    private static int Wanted =>
        int.TryParse(
            Environment.GetEnvironmentVariable("PROTOCOLKIT_RECORDS"),
            CultureInfo.InvariantCulture,
            out var count
        )
            ? count
            : Few;

    [Fact]
    public void Records_of_the_example_lie_inside_the_proved_sets() =>
        AllInside(Example.Read().Compile().Protocol!, Wanted);

    [Fact]
    public void Records_of_generated_protocols_lie_inside_the_proved_sets()
    {
        for (var seed = 1UL; seed <= 6; seed++)
        {
            var source = new SourceText("small.protocol", SmallProtocols.Write(seed));
            var compilation = Compilation.Of(source, new NoModules());
            Assert.True(
                compilation.Protocol is not null,
                string.Concat(compilation.Diagnostics.Select(DiagnosticText.Render))
            );
            AllInside(compilation.Protocol!, Wanted / 6);
        }
    }

    private void AllInside(Protocol protocol, int wanted)
    {
        var sets = new ProvedSets(protocol);
        var any = new RecordTarget.Any();
        var complete = new RecordSampler(protocol).Draw(any, wanted / 4, 1);
        var brief = protocol.HasShortForm
            ? new RecordSampler(protocol, null, shortForm: true).Draw(any, wanted / 8, 2)
            : [];
        var open = new RecordSampler(protocol, null, untried: true).Draw(any, wanted / 8, 3);
        var done = 0;
        foreach (var fields in complete.Concat(brief))
        {
            sets.Holds(fields, isComplete: true);
            done++;
        }

        foreach (var fields in open.Concat(Testing.Records.Random(protocol, wanted - done, 4)))
        {
            sets.Holds(fields, isComplete: false);
            done++;
        }

        Assert.True(done >= wanted);
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{done:N0} records of {protocol.Name}, {sets.Compared:N0} values compared, {sets.OutsideAges:N0} records outside its ages."
            )
        );
    }

    /// <summary>The proved sets, to be looked up.</summary>
    private sealed class ProvedSets
    {
        private readonly Protocol _protocol;
        private readonly Dictionary<(string, bool, bool, int), ReachableSet> _byAge = [];
        private readonly Dictionary<ReachableSet, (HashSet<Rational>, HashSet<(Rational, Rational)>)> _sets =
            new(ReferenceEqualityComparer.Instance);

        public ProvedSets(Protocol protocol)
        {
            _protocol = protocol;
            var report = Prover.Prove(protocol, new ProofOptions(Counts: false));
            Assert.Empty(report.NotProved);
            foreach (var set in report.Sets)
            {
                _sets[set] = ([.. set.Values], [.. set.Ranges ?? []]);
                for (var month = set.Ages.From.Months; month <= set.Ages.To.Months; month++)
                {
                    _byAge[(set.Outcome.Name, set.ShortForm, set.Untried, month)] = set;
                }
            }
        }

        public long Compared { get; private set; }
        public long OutsideAges { get; private set; }

        public void Holds(long[] fields, bool isComplete)
        {
            var program = _protocol.Program;
            var month = (int)fields[program.AgeField];
            if (!_protocol.Ages.Contains(new Age(month)))
            {
                OutsideAges++;
                return;
            }

            var lines = Evaluator.Run(program, fields);
            foreach (var outcome in program.Outcomes)
            {
                var key = (outcome.Outcome.Name, fields[program.FormField] == 1, !isComplete, month);
                var set = _byAge[key];
                Assert.True(Holds(set, outcome, lines), $"{key}: {string.Join(' ', fields)}");
                Compared++;
            }
        }

        private bool Holds(ReachableSet set, OutcomeLines outcome, long[] lines)
        {
            if (lines[outcome.StateLine] != 0)
            {
                return set.States.Contains((State)lines[outcome.StateLine]);
            }

            var isFraction = outcome.LowDenominatorLine >= 0;
            var low = new Rational(
                lines[outcome.LowLine],
                isFraction ? lines[outcome.LowDenominatorLine] : 1
            );
            var high = new Rational(
                lines[outcome.HighLine],
                isFraction ? lines[outcome.HighDenominatorLine] : 1
            );
            (low, high) = (low * outcome.Scale, high * outcome.Scale);
            var (values, ranges) = _sets[set];
            return low == high ? values.Contains(low) : set.Ranges is null || ranges.Contains((low, high));
        }
    }

    private sealed class NoModules : IModuleSource
    {
        public SourceText? Find(string name) => null;

        public IEnumerable<string> Names => [];
    }
}
