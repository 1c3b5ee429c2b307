using Jint;
using Jint.Native;
using Jint.Runtime;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Emitted JavaScript in Jint, within this process; always there. Jint walks the code and is the slowest of
/// all, so a batch is shared out among engines of its own.
/// </summary>
internal sealed class JintTarget(string code) : IScoringTarget
{
    private static readonly int MostEngines = Math.Clamp(Environment.ProcessorCount, 1, 8);

    private readonly List<(Engine Engine, JsValue Run)> _engines = [];

    public string Name => "javascript-jint";

    public NumberForm Numbers => NumberForm.Doubles;

    public void Start()
    {
        try
        {
            for (var i = 0; i < MostEngines; i++)
            {
                _engines.Add(NewEngine());
            }
        }
        catch (JintException e)
        {
            throw new TargetUnavailableException($"Jint does not take the JavaScript: {e.Message}", e);
        }
    }

    public IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records)
    {
        var shares = records.Chunk(Math.Max(1, (records.Count + MostEngines - 1) / MostEngines)).ToList();
        var answers = new IReadOnlyList<TargetAnswer>[shares.Count];
        try
        {
            Parallel.For(0, shares.Count, i => answers[i] = RunShare(_engines[i], shares[i]));
        }
        catch (AggregateException e) when (e.InnerExceptions.All(f => f is JintException))
        {
            throw new TargetFaultException(e.InnerExceptions[0].Message, e);
        }

        return [.. answers.SelectMany(a => a)];
    }

    public void Dispose()
    {
        foreach (var (engine, _) in _engines)
        {
            engine.Dispose();
        }

        _engines.Clear();
    }

    private static IReadOnlyList<TargetAnswer> RunShare(
        (Engine Engine, JsValue Run) engine,
        IReadOnlyList<TrialRecord> records
    ) => JsonBatch.Read(engine.Engine.Invoke(engine.Run, JsonBatch.Write(records)).AsString());

    private (Engine Engine, JsValue Run) NewEngine()
    {
        var engine = new Engine();
        engine.Modules.Add("./scoring.mjs", code);
        engine.Modules.Add("./harness.mjs", HarnessText.Of("harness.mjs"));
        return (engine, engine.Modules.Import("./harness.mjs").Get("run"));
    }
}
