using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp.Scripting;
using Microsoft.CodeAnalysis.Scripting;
using ProtocolKit.Model;
using ProtocolKit.Testing;

namespace ProtocolKit.Verification.Targets;

using EmittedScoring = Func<
    long[],
    int,
    string,
    Dictionary<string, object>,
    Dictionary<string, string>,
    Dictionary<string, string>,
    object[]
>;

/// <summary>
/// Emitted C#, compiled by Roslyn scripting within this process. It is no sandbox: what runs here was written
/// from a checked program, with names and literals from our own writers.
/// </summary>
internal sealed class CSharpTarget(string code, string typeName) : IScoringTarget
{
    /// <summary>Values as the code takes them, so that each is made once; no more than this at a time.</summary>
    private const int MostValues = 1 << 16;

    private readonly Dictionary<PlainAnswer, object> _values = new(ReferenceEqualityComparer.Instance);
    private EmittedScoring? _score;

    public string Name => "csharp";

    public NumberForm Numbers => NumberForm.Decimals;

    public void Start()
    {
        var options = ScriptOptions
            .Default.WithReferences(
                typeof(object).Assembly,
                typeof(Enumerable).Assembly,
                typeof(HashSet<>).Assembly
            )
            .WithOptimizationLevel(OptimizationLevel.Release);
        try
        {
            var harness = HarnessText
                .Of("harness.csx")
                .Replace("Emitted.", typeName + ".", StringComparison.Ordinal);
            _score = CSharpScript
                .EvaluateAsync<EmittedScoring>(code + "\n" + harness, options)
                .GetAwaiter()
                .GetResult();
        }
        catch (CompilationErrorException e)
        {
            throw new TargetUnavailableException($"the C# does not compile: {e.Diagnostics[0]}", e);
        }
        catch (NotSupportedException e)
        {
            throw new TargetUnavailableException($"the C# compiler can't run here: {e.Message}", e);
        }
    }

    public IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records) => [.. records.Select(RunOne)];

    public void Dispose() => _score = null;

    private TargetAnswer RunOne(TrialRecord record)
    {
        var plain = record.Plain;
        object[] said;
        try
        {
            said = _score!(
                record.Fields,
                (int)plain.AgeMonths,
                plain.IsShortForm ? "short" : "full",
                plain.Answers.ToDictionary(a => a.Key, ValueOf, StringComparer.Ordinal),
                plain.Observations.ToDictionary(o => o.Key, o => o.Text, StringComparer.Ordinal),
                plain.History.ToDictionary(h => h.Key, h => h.Text, StringComparer.Ordinal)
            );
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            // Whatever the emitted code throws is a finding about it, not a fault of ours.
            throw new TargetFaultException($"{e.GetType().Name}: {e.Message}", e);
        }

        return new TargetAnswer(
            SaidNumbers.Of((long[])said[0]),
            SaidNumbers.Of((long[])said[1]),
            (List<KeyValuePair<string, string>>)said[2]
        );
    }

    private object ValueOf(PlainAnswer answer)
    {
        if (answer.Number is not { } number)
        {
            return answer.Word!;
        }

        if (!_values.TryGetValue(answer, out var value))
        {
            value = (decimal)number.Numerator / (decimal)number.Denominator;
            if (_values.Count == MostValues)
            {
                _values.Clear();
            }

            _values.Add(answer, value);
        }

        return value;
    }
}
