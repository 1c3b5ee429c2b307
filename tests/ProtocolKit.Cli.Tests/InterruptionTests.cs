using System.Diagnostics;
using System.Text;

namespace ProtocolKit.Cli.Tests;

/// <summary>The real process, told to end as a terminal does it, in the middle of its work.</summary>
public sealed class InterruptionTests : IDisposable
{
    private const int Interrupted = 130;
    private const int Terminated = 143;
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    /// <summary>What a shell starts in the background ignores Ctrl+C, and so would all that these tests start; env undoes that.</summary>
    private const string Listening = "--default-signal=INT,TERM";
    private static readonly bool CanListen = Succeeds("env", Listening, "true");

    private readonly string _folder = Directory.CreateTempSubdirectory("protocolkit-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("INT", Interrupted)]
    [InlineData("TERM", Terminated)]
    public void Scoring_a_table_leaves_no_half_file_and_earlier_results_whole(string signal, int expected)
    {
        var table = Table(rows: 1_000_000);
        var results = Path.Combine(_folder, "results.csv");
        File.WriteAllText(results, "earlier");

        var (status, messages) = Run(
            signal,
            () => File.Exists(results + ".part"),
            "score",
            Starter,
            table,
            "-o",
            results
        );

        Assert.Equal(expected, status);
        Assert.Contains("Stopped. Nothing was written; earlier results are as they were.", messages);
        Assert.Equal("earlier", File.ReadAllText(results));
        Assert.Equal(
            ["results.csv", "table.csv", "temporary"],
            Directory.EnumerateFileSystemEntries(_folder).Select(Path.GetFileName).Order()
        );
    }

    [Fact]
    public void Building_leaves_no_unfinished_folder_and_no_browser()
    {
        var output = Path.Combine(_folder, "out");

        var (status, messages) = Run(
            "INT",
            () => Directory.Exists(output) && Directory.EnumerateDirectories(output, ".unfinished-*").Any(),
            "build",
            Starter,
            "-o",
            output
        );

        Assert.Equal(Interrupted, status);
        Assert.Contains("Stopped.", messages);
        Assert.Empty(Directory.EnumerateFileSystemEntries(output));
        AssertNothingIsLeft();
    }

    [Theory]
    [InlineData("python")]
    [InlineData("sql-postgresql")]
    public void Verifying_ends_the_engines_it_started_and_takes_their_files_away(string target)
    {
        var isMissing = target == "sql-postgresql" && !Directory.Exists("/usr/lib/postgresql");
        if (isMissing && Environment.GetEnvironmentVariable("CI") != "true")
        {
            return;
        }

        var (status, messages) = Run(
            "INT",
            () => Engines().Count > 0 && Directory.EnumerateDirectories(Temporary).Any(),
            "verify",
            Starter,
            "--targets",
            target,
            "--records",
            "1000000"
        );

        Assert.Equal(Interrupted, status);
        Assert.Contains("Stopped.", messages);
        Assert.DoesNotContain("fault", messages);
        AssertNothingIsLeft();
    }

    private static string Starter =>
        Path.Combine(Sandbox.Root, "src", "ProtocolKit.Cli", "Starter", "starter.protocol");

    /// <summary>Temporary files of the process and of all that it starts.</summary>
    private string Temporary => Directory.CreateDirectory(Path.Combine(_folder, "temporary")).FullName;

    private void AssertNothingIsLeft()
    {
        // What was killed goes when its turn comes, on a busy machine not at once.
        SpinWait.SpinUntil(() => Engines().Count == 0, TimeSpan.FromSeconds(10));
        Assert.Empty(Engines());
        Assert.DoesNotContain(
            Directory.EnumerateFileSystemEntries(Temporary),
            f => Path.GetFileName(f).StartsWith("protocolkit-", StringComparison.Ordinal)
        );
    }

    /// <summary>Processes that work in, or were told of, this test's temporary folder.</summary>
    private List<string> Engines() =>
        [
            .. Directory
                .EnumerateDirectories("/proc")
                .Where(p => int.TryParse(Path.GetFileName(p), out var id) && id != Environment.ProcessId)
                .Where(p =>
                    IsIn(p)
                    && !Read(Path.Combine(p, "cmdline")).Contains("protocolkit.dll", StringComparison.Ordinal)
                ),
        ];

    private bool IsIn(string process)
    {
        var folder = "";
        try
        {
            folder =
                File.ResolveLinkTarget(Path.Combine(process, "cwd"), returnFinalTarget: false)?.FullName
                ?? "";
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // It has just ended.
        }

        return folder.StartsWith(Temporary, StringComparison.Ordinal)
            || Read(Path.Combine(process, "cmdline")).Contains(Temporary, StringComparison.Ordinal);
    }

    private static string Read(string path)
    {
        try
        {
            return File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return "";
        }
    }

    /// <summary>Starts it, waits until it is at work, sends the signal, and waits for its end.</summary>
    private (int Status, string Messages) Run(string signal, Func<bool> isAtWork, params string[] arguments)
    {
        var start = new ProcessStartInfo(CanListen ? "env" : "dotnet")
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            WorkingDirectory = _folder, // other tests move this process's own
        };
        start.Environment["TMPDIR"] = Temporary;
        if (CanListen)
        {
            start.ArgumentList.Add(Listening);
            start.ArgumentList.Add("dotnet");
        }

        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "protocolkit.dll"));
        arguments.ToList().ForEach(start.ArgumentList.Add);
        using var process = Process.Start(start)!;
        var (messages, output) = (
            process.StandardError.ReadToEndAsync(),
            process.StandardOutput.ReadToEndAsync()
        );
        try
        {
            var watch = Stopwatch.StartNew();
            while (!isAtWork())
            {
                Assert.False(
                    process.HasExited,
                    $"It ended before it was at work: {(process.HasExited ? messages.Result : "")}"
                );
                Assert.True(watch.Elapsed < Patience, "It was never at work.");
                Thread.Sleep(20);
            }

            Thread.Sleep(200);
            using var kill = Process.Start("kill", [$"-{signal}", $"{process.Id}"]);
            kill.WaitForExit();
            Assert.True(process.WaitForExit(Patience), "It went on.");
            output.Wait();
            return (process.ExitCode, messages.Result);
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill(entireProcessTree: true);
            }
        }
    }

    private static bool Succeeds(string program, params string[] arguments)
    {
        using var process = Process.Start(program, arguments);
        process.WaitForExit();
        return process.ExitCode == 0;
    }

    private string Table(int rows)
    {
        var table = Path.Combine(_folder, "table.csv");
        var text = new StringBuilder("protocol,edition,case,seen,age-months,form\n");
        for (var row = 0; row < rows; row++)
        {
            text.Append("starter-screen,0.1,QC-1,2026-03-04,60,full\n");
        }

        File.WriteAllText(table, text.ToString());
        return table;
    }
}
