using Jint;
using Jint.Native;
using Jint.Runtime;

namespace ProtocolKit.Verification.Targets;

/// <summary>Emitted JavaScript in Jint, within this process; always there.</summary>
internal sealed class JintTarget(string code) : IScoringTarget
{
    private Engine? _engine;
    private JsValue? _run;

    public string Name => "javascript-jint";

    public bool InDoubles => true;

    public void Start()
    {
        try
        {
            _engine = new Engine();
            _engine.Modules.Add("./scoring.mjs", code);
            _engine.Modules.Add("./harness.mjs", HarnessText.Of("harness.mjs"));
            _run = _engine.Modules.Import("./harness.mjs").Get("run");
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
            return JavaScriptBatch.Read(_engine!.Invoke(_run!, JavaScriptBatch.Write(records)).AsString());
        }
        catch (JintException e)
        {
            throw new TargetFaultException(e.Message, e);
        }
    }

    public void Dispose()
    {
        _engine?.Dispose();
        _engine = null;
    }
}
