using System.Text;
using ProtocolKit.Verification;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli;

/// <summary>Where results and messages go.</summary>
internal sealed record Terminal(TextWriter Output, TextWriter Messages)
{
    private const int LongestInput = 64 * 1024 * 1024;

    /// <summary>What was typed or piped in; null where the process's own standard input is meant.</summary>
    public TextReader? Input { get; init; }

    /// <summary>What may end the work early; null where nothing does.</summary>
    public Interruption? Interruption { get; init; }

    /// <summary>
    /// True where results go to a terminal that shows colours. <c>NO_COLOR</c>, set to anything, turns them off
    /// (the convention of no-color.org).
    /// </summary>
    public bool HasColours =>
        ReferenceEquals(Output, Console.Out)
        && !Console.IsOutputRedirected
        && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"))
        && Environment.GetEnvironmentVariable("TERM") != "dumb";

    /// <summary>All of standard input, as UTF-8.</summary>
    /// <exception cref="FileProblemException">It is larger than any file of ours.</exception>
    public string ReadInput()
    {
        using var own = Input is null
            ? new StreamReader(Console.OpenStandardInput(), new UTF8Encoding(false))
            : null;
        var reader = Input ?? own!;
        var text = new StringBuilder();
        var part = new char[64 * 1024];
        int read;
        while ((read = reader.Read(part)) > 0)
        {
            text.Append(part, 0, read);
            if (text.Length > LongestInput)
            {
                throw new FileProblemException("Standard input has more than 64 million characters.");
            }
        }

        return text.ToString();
    }

    /// <summary>A line of the result.</summary>
    public void Say(string line = "") => Write(Output, line);

    /// <summary>A line about the work.</summary>
    public void Tell(string line = "") => Write(Messages, line);

    private void Write(TextWriter to, string line)
    {
        if (Interruption?.IsEnding != true)
        {
            to.Write(line + "\n");
        }
    }

    /// <summary>A bar that fills on one line; null where messages don't go to a terminal.</summary>
    public IProgress<VerifyProgress>? ProgressOf(string what) =>
        Console.IsErrorRedirected || !ReferenceEquals(Messages, Console.Error)
            ? null
            : new ProgressBar(Messages, what);

    private sealed class ProgressBar(TextWriter to, string what) : IProgress<VerifyProgress>
    {
        private const int Width = 40;

        public void Report(VerifyProgress value)
        {
            var filled = value.All == 0 ? Width : (int)((long)Width * value.Done / value.All);
            to.Write(
                $"\r[{new string('#', filled)}{new string('.', Width - filled)}] {value.Done} of {value.All} {what}"
            );
            if (value.Done == value.All)
            {
                to.Write("\r" + new string(' ', Width + what.Length + 30) + "\r");
            }
        }
    }
}
