namespace ProtocolKit.Cli;

/// <summary>Where results and messages go.</summary>
internal sealed record Terminal(TextWriter Output, TextWriter Messages)
{
    /// <summary>A line of the result.</summary>
    public void Say(string line = "") => Output.Write(line + "\n");

    /// <summary>A line about the work.</summary>
    public void Tell(string line = "") => Messages.Write(line + "\n");
}
