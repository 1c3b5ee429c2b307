using ProtocolKit.Verification;

namespace ProtocolKit.Cli;

/// <summary>Where results and messages go.</summary>
internal sealed record Terminal(TextWriter Output, TextWriter Messages)
{
    /// <summary>A line of the result.</summary>
    public void Say(string line = "") => Output.Write(line + "\n");

    /// <summary>A line about the work.</summary>
    public void Tell(string line = "") => Messages.Write(line + "\n");

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
