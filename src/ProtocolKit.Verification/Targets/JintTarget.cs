using Jint;
using Jint.Native;
using Jint.Runtime;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Emitted JavaScript in Jint, within this process; always there. Jint walks the code and is the slowest of
/// all, so a batch is shared out among engines of its own.
/// </summary>
internal sealed class JintTarget(string code, RecordKeyLists keys) : IScoringTarget
{
    private readonly List<(Engine Engine, JsValue Run)> _engines = [];

    public string Name => "javascript-jint";

    public NumberForm Numbers => NumberForm.Doubles;

    public void Start()
    {
        try
        {
            for (var i = 0; i < LargeStack.Threads; i++)
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
        try
        {
            return LargeStack.Share(records, RunShare);
        }
        catch (JintException e)
        {
            throw new TargetFaultException(e.Message, e);
        }
    }

    public void Dispose()
    {
        foreach (var (engine, _) in _engines)
        {
            engine.Dispose();
        }

        _engines.Clear();
    }

    private IReadOnlyList<TargetAnswer> RunShare(int share, TrialRecord[] records)
    {
        var (engine, run) = _engines[share];
        return JsonBatch.Read(engine.Invoke(run, JsonBatch.Write(keys, records)).AsString());
    }

    private (Engine Engine, JsValue Run) NewEngine()
    {
        var engine = new Engine();
        engine.Modules.Add("./scoring.mjs", code);
        engine.Modules.Add("./keys.mjs", keys.JavaScript);
        engine.Modules.Add("./harness.mjs", HarnessText.Of("harness.mjs"));
        return (engine, engine.Modules.Import("./harness.mjs").Get("run"));
    }
}
