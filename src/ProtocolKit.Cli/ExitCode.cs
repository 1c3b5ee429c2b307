namespace ProtocolKit.Cli;

/// <summary>What the program answers to the shell.</summary>
internal static class ExitCode
{
    public const int Done = 0;

    /// <summary>The protocol, record or data has errors; all are listed.</summary>
    public const int HasErrors = 1;
    public const int WrongUse = 2;
    public const int OurFault = 3;
}
