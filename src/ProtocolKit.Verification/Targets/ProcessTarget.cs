namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Emitted code in an interpreter that reads batches of records as JSON and answers in kind. A batch is shared out among processes.
/// </summary>
/// <param name="language">What the interpreter should take, in messages.</param>
/// <param name="keys">What stands in records.</param>
/// <param name="files">The code and the harness that calls it.</param>
internal sealed class ProcessTarget(
    string name,
    string language,
    EngineCommand command,
    RecordKeyLists keys,
    IReadOnlyList<(string Name, string Text)> files
) : IScoringTarget
{
    private readonly List<EngineProcess> _engines = [];

    public string Name => name;

    public NumberForm Numbers => NumberForm.Doubles;

    public static ProcessTarget Node(string code, RecordKeyLists keys, string program) =>
        new(
            "javascript-node",
            "JavaScript",
            new EngineCommand("Node", program, ["--stack-size=4000", "node.mjs"], ["NODE_OPTIONS"]),
            keys,
            [
                ("keys.mjs", keys.JavaScript),
                ("scoring.mjs", code),
                ("harness.mjs", HarnessText.Of("harness.mjs")),
                ("node.mjs", HarnessText.Of("node.mjs")),
            ]
        );

    /// <summary>Isolated from the user's own settings and packages: the code needs the standard library alone.</summary>
    public static ProcessTarget Python(string code, RecordKeyLists keys, string program) =>
        new(
            "python",
            "Python",
            new EngineCommand(
                "Python",
                program,
                ["-B", "-E", "-s", "-S", "-X", "utf8", "harness.py"],
                ["PYTHONPATH", "PYTHONSTARTUP"]
            ),
            keys,
            [("keys.json", keys.Json), ("scoring.py", code), ("harness.py", HarnessText.Of("harness.py"))]
        );

    public void Start()
    {
        for (var i = 0; i < LargeStack.Threads; i++)
        {
            _engines.Add(new EngineProcess(command, files));
        }

        try
        {
            RunShare(0, []);
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
        LargeStack.Share(records, RunShare);

    public void Dispose() => _engines.ForEach(e => e.Dispose());

    private IReadOnlyList<TargetAnswer> RunShare(int share, TrialRecord[] records) =>
        JsonBatch.Read(_engines[share].Ask(JsonBatch.Write(keys, records)));
}
