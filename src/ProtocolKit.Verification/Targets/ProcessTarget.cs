namespace ProtocolKit.Verification.Targets;

/// <summary>Emitted code in an interpreter that reads batches of records as JSON and answers in kind.</summary>
/// <param name="language">What the interpreter should take, in messages.</param>
/// <param name="files">The code and the harness that calls it.</param>
internal sealed class ProcessTarget(
    string name,
    string language,
    EngineCommand command,
    IReadOnlyList<(string Name, string Text)> files
) : IScoringTarget
{
    private EngineProcess? _engine;

    public string Name => name;

    public NumberForm Numbers => NumberForm.Doubles;

    public static ProcessTarget Node(string code, string program) =>
        new(
            "javascript-node",
            "JavaScript",
            new EngineCommand("Node", program, ["--stack-size=4000", "node.mjs"], ["NODE_OPTIONS"]),
            [
                ("scoring.mjs", code),
                ("harness.mjs", HarnessText.Of("harness.mjs")),
                ("node.mjs", HarnessText.Of("node.mjs")),
            ]
        );

    /// <summary>Isolated from the user's own settings and packages: the code needs the standard library alone.</summary>
    public static ProcessTarget Python(string code, string program) =>
        new(
            "python",
            "Python",
            new EngineCommand(
                "Python",
                program,
                ["-B", "-E", "-s", "-S", "-X", "utf8", "harness.py"],
                ["PYTHONPATH", "PYTHONSTARTUP"]
            ),
            [("scoring.py", code), ("harness.py", HarnessText.Of("harness.py"))]
        );

    public void Start()
    {
        _engine = new EngineProcess(command, files);
        try
        {
            Run([]);
        }
        catch (TargetFaultException e)
        {
            throw new TargetUnavailableException(
                $"{command.Title} does not take the {language}: {e.Message}",
                e
            );
        }
    }

    public IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records) =>
        JsonBatch.Read(_engine!.Ask(JsonBatch.Write(records)));

    public void Dispose() => _engine?.Dispose();
}
