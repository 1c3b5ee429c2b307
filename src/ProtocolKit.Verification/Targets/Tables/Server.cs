using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>
/// A database server for the time of one run: on loopback, with all its files in a temporary folder, under a user
/// without rights where this process is the superuser, and stopped whatever happens.
/// </summary>
internal sealed class Server : IDisposable
{
    private const string OtherUser = "nobody";
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly string _title;
    private readonly AtExit _folderAtExit;
    private readonly bool _asOther = Environment.IsPrivilegedProcess && !OperatingSystem.IsWindows();
    private Process? _process;
    private AtExit? _processAtExit;

    public Server(string title)
    {
        _title = title;
        _folderAtExit = AtExit.Of(
            () => Directory.CreateTempSubdirectory("protocolkit-verify-").FullName,
            Leftovers.Remove,
            out var folder
        );
        Folder = folder;
    }

    public string Folder { get; }

    /// <summary>Gives the folder, and all in it, to the user the server runs as.</summary>
    public void HandOver()
    {
        if (_asOther)
        {
            Run("chown", ["-R", OtherUser, Folder], asOther: false);
        }
    }

    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    /// <summary>Starts the server and waits until the probe succeeds.</summary>
    /// <exception cref="TargetUnavailableException">It isn't installed or doesn't come up.</exception>
    public void Start(string program, IReadOnlyList<string> arguments, Func<bool> probe)
    {
        var info = Info(program, arguments, _asOther);
        info.RedirectStandardInput = true;
        _processAtExit = Launch(info, out _process);
        _process.OutputDataReceived += (_, _) => { };
        _process.ErrorDataReceived += (_, _) => { };
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
        var watch = Stopwatch.StartNew();
        while (!probe())
        {
            if (_process.HasExited || watch.Elapsed > Patience)
            {
                throw new TargetUnavailableException($"{_title} is installed but did not start.");
            }

            Thread.Sleep(100);
        }
    }

    /// <summary>Runs a program to its end: its exit status, output and complaints.</summary>
    /// <exception cref="TargetUnavailableException">It isn't installed.</exception>
    public (int Status, string Output, string Complaint) Run(
        string program,
        IReadOnlyList<string> arguments,
        bool asOther = false,
        string? input = null
    )
    {
        var info = Info(program, arguments, asOther && _asOther);
        info.RedirectStandardInput = true;
        using var atExit = Launch(info, out var process);
        using (process)
        {
            return Finish(process, input);
        }
    }

    private static (int Status, string Output, string Complaint) Finish(Process process, string? input)
    {
        var complaint = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEndAsync();
        try
        {
            process.StandardInput.Write(input ?? "");
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It ended before it read all; its complaint says why.
        }

        process.WaitForExit();
        return (process.ExitCode, output.Result, complaint.Result);
    }

    public void Dispose()
    {
        if (_process is { } process)
        {
            _process = null;
            if (!process.HasExited)
            {
                ChildProcess.End(process);
            }

            _processAtExit?.Dispose();
            process.Dispose();
        }

        Leftovers.Remove(Folder);
        _folderAtExit.Dispose();
    }

    private AtExit Launch(ProcessStartInfo info, out Process process)
    {
        try
        {
            return AtExit.Of(() => Process.Start(info) ?? throw Missing(null), ChildProcess.End, out process);
        }
        catch (Win32Exception e)
        {
            throw Missing(e);
        }
    }

    private TargetUnavailableException Missing(Exception? inner) =>
        new($"{_title} isn't installed, or not where programs are looked for.", inner!) { IsMissing = true };

    private ProcessStartInfo Info(string program, IReadOnlyList<string> arguments, bool asOther)
    {
        var found = Find(program) ?? throw Missing(null);
        var info = new ProcessStartInfo(asOther ? "runuser" : found)
        {
            WorkingDirectory = Folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
            StandardErrorEncoding = Encoding.UTF8,
            StandardInputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false),
            UseShellExecute = false,
            CreateNoWindow = true,
        };
        if (asOther)
        {
            info.ArgumentList.Add("-u");
            info.ArgumentList.Add(OtherUser);
            info.ArgumentList.Add("--");
            info.ArgumentList.Add(found);
        }

        foreach (var argument in arguments)
        {
            info.ArgumentList.Add(argument);
        }

        info.Environment["LC_ALL"] = "C.UTF-8";
        return info;
    }

    /// <summary>On the path, in the places for servers, and where Debian keeps each version of PostgreSQL.</summary>
    private static string? Find(string program)
    {
        if (Path.IsPathRooted(program))
        {
            return File.Exists(program) ? program : null;
        }

        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries)
            .Append("/usr/sbin")
            .Concat(PostgreSqlFolders());
        return folders.Select(f => Path.Combine(f, program)).FirstOrDefault(File.Exists);
    }

    private static IEnumerable<string> PostgreSqlFolders() =>
        Directory.Exists("/usr/lib/postgresql")
            ? Directory
                .GetDirectories("/usr/lib/postgresql")
                .OrderByDescending(d =>
                    int.TryParse(Path.GetFileName(d), CultureInfo.InvariantCulture, out var v) ? v : 0
                )
                .Select(d => Path.Combine(d, "bin"))
            : [];
}
