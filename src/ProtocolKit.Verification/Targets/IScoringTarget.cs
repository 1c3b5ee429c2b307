using ProtocolKit.Testing;

namespace ProtocolKit.Verification.Targets;

/// <summary>Emitted code in one language, in one engine that runs it.</summary>
internal interface IScoringTarget : IDisposable
{
    /// <summary>Such as <c>javascript-node</c>.</summary>
    string Name { get; }

    /// <summary>What its numbers for people are.</summary>
    NumberForm Numbers { get; }

    /// <summary>Whether it answers with a row of a table, which has the reasons in one cell and no units or steps.</summary>
    bool GivesTable => false;

    /// <summary>How many records it takes at once with profit.</summary>
    int BatchSize => 512;

    /// <summary>How many records it is run on at most; of more, an even selection.</summary>
    int MostRecords => int.MaxValue;

    /// <summary>Gets the code ready to run.</summary>
    /// <exception cref="TargetUnavailableException">The engine isn't there or does not take the code.</exception>
    void Start();

    /// <summary>Runs records through the code, in order.</summary>
    /// <exception cref="TargetFaultException">The code failed on one of them.</exception>
    IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records);
}

internal enum NumberForm
{
    /// <summary>The double nearest to the exact number.</summary>
    Doubles,

    /// <summary>A decimal of at least 28 digits.</summary>
    Decimals,

    /// <summary>The number itself.</summary>
    Exact,
}

/// <summary>A record twice: as fields, and as it is written down.</summary>
internal sealed record TrialRecord(long[] Fields, PlainRecord Plain);

/// <summary>All that code said of a record.</summary>
/// <param name="Lines">Every line's value, from the fields.</param>
/// <param name="Read">The fields as the code read them from the written record.</param>
/// <param name="Outputs">Scores, bands, actions, headline, reasons and errors of the written record.</param>
internal sealed record TargetAnswer(
    SaidNumbers Lines,
    SaidNumbers Read,
    IReadOnlyList<KeyValuePair<string, string>> Outputs
);

/// <summary>The target could not run at all; the message says why.</summary>
public sealed class TargetUnavailableException : Exception
{
    /// <summary>A program it needs isn't installed; otherwise the code itself was not taken.</summary>
    public bool IsMissing { get; init; }

    public TargetUnavailableException() { }

    public TargetUnavailableException(string message)
        : base(message) { }

    public TargetUnavailableException(string message, Exception inner)
        : base(message, inner) { }
}

/// <summary>The code failed while it ran; the message says how.</summary>
public sealed class TargetFaultException : Exception
{
    /// <summary>There was no answer in time: on a busy machine, that says nothing about the code.</summary>
    public bool IsSilence { get; init; }

    public TargetFaultException() { }

    public TargetFaultException(string message)
        : base(message) { }

    public TargetFaultException(string message, Exception inner)
        : base(message, inner) { }
}
