using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Verification;

/// <summary>What to verify, and how thoroughly.</summary>
public sealed record VerifyOptions
{
    /// <summary>Random records, besides all those at edges.</summary>
    public int Records { get; init; } = 1000;

    /// <summary>
    /// Exactly sampled records besides: uniform over all that come to a band, an action or a value beside a limit, so that rare
    /// outcomes are run too.
    /// </summary>
    public int Sampled { get; init; } = 64;

    /// <summary>
    /// Records at edges, at most: a protocol of thousands of tasks has tens of thousands, of which an even
    /// selection is run. The report says how many of how many.
    /// </summary>
    public int MostAtEdges { get; init; } = 10_000;

    /// <summary>
    /// Records a FHIRPath engine is run on, at most: it takes a second for a record that others score in a millisecond. An even
    /// selection of all is run.
    /// </summary>
    public int MostInForms { get; init; } = 100;

    /// <summary>Records the workbook is run on, at most: an office program works it out. An even selection of all is run.</summary>
    public int MostInWorkbook { get; init; } = 2_000;

    /// <summary>The same seed gives the same records.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>
    /// Names of <see cref="Verifier.TargetNames"/>, or the part before a hyphen for all of a language. Empty: all.
    /// </summary>
    public IReadOnlyList<string> Targets { get; init; } = [];

    /// <summary>The templates the code is made with.</summary>
    public TemplateSource Templates { get; init; } = TemplateSource.BuiltIn;

    /// <summary>The code to run, where it isn't what is emitted now: a file written earlier, say.</summary>
    public Func<CodeOutput, string>? Code { get; init; }

    /// <summary>Changes the workbook before it is run, for tests.</summary>
    public Func<byte[], byte[]>? Workbook { get; init; }

    /// <summary>Changes the questionnaire before it is run, for tests.</summary>
    public Func<string, string>? Questionnaire { get; init; }

    /// <summary>Where a program isn't found under its own name: <c>node</c>, <c>python3</c> and the like, with its path; for <c>fhirpath</c> the folder that holds node_modules.</summary>
    public IReadOnlyDictionary<string, string> Programs { get; init; } = new Dictionary<string, string>();

    /// <summary>Whether a program that isn't installed counts as a mistake, as on a build server.</summary>
    public bool MissingIsWrong { get; init; }
}

/// <summary>How far a run has come.</summary>
/// <param name="Done">Records every target has been through.</param>
public sealed record VerifyProgress(int Done, int All);
