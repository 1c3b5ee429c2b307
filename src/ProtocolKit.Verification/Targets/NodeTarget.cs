using System.ComponentModel;
using System.Diagnostics;
using System.Text;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Emitted JavaScript in Node, where it is installed: a process of its own that reads batches, with its
/// files in a folder that is removed afterwards.
/// </summary>
internal sealed class NodeTarget(string code, string command = "node") : IScoringTarget
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    private readonly StringBuilder _complaints = new();
    private string? _folder;
    private Process? _process;

    public string Name => "javascript-node";

    public bool InDoubles => true;

    public void Start()
    {
        _folder = Directory.CreateTempSubdirectory("protocolkit-verify-").FullName;
        File.WriteAllText(Path.Combine(_folder, "scoring.mjs"), code, Utf8);
        File.WriteAllText(Path.Combine(_folder, "harness.mjs"), HarnessText.Of("harness.mjs"), Utf8);
        File.WriteAllText(Path.Combine(_folder, "node.mjs"), HarnessText.Of("node.mjs"), Utf8);
        try
        {
            _process = Process.Start(StartInfo(_folder)) ?? throw Missing(null);
        }
        catch (Win32Exception e)
        {
            throw Missing(e);
        }

        _process.ErrorDataReceived += (_, line) => Note(line.Data);
        _process.BeginErrorReadLine();
        try
        {
            Run([]);
        }
        catch (TargetFaultException e)
        {
            throw new TargetUnavailableException($"Node does not take the JavaScript: {e.Message}", e);
        }
    }

    public IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records)
    {
        try
        {
            _process!.StandardInput.WriteLine(JavaScriptBatch.Write(records));
            _process.StandardInput.Flush();
        }
        catch (IOException e)
        {
            throw new TargetFaultException(Complaint(), e);
        }

        var answer = _process.StandardOutput.ReadLineAsync();
        if (!answer.Wait(Patience))
        {
            throw new TargetFaultException("Node gave no answer within two minutes.");
        }

        return JavaScriptBatch.Read(answer.Result ?? throw new TargetFaultException(Complaint()));
    }

    public void Dispose()
    {
        if (_process is { } process)
        {
            Stop(process);
            process.Dispose();
            _process = null;
        }

        if (_folder is { } folder)
        {
            Directory.Delete(folder, recursive: true);
            _folder = null;
        }
    }

    private static void Stop(Process process)
    {
        try
        {
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It has ended already, and its end of the pipe with it.
        }

        if (!process.WaitForExit(TimeSpan.FromSeconds(5)))
        {
            process.Kill(entireProcessTree: true);
            process.WaitForExit();
        }
    }

    private static TargetUnavailableException Missing(Exception? inner) =>
        new("Node isn't installed, or not where programs are looked for.", inner!) { IsMissing = true };

    private ProcessStartInfo StartInfo(string folder)
    {
        var info = new ProcessStartInfo(command)
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardInputEncoding = Utf8,
            StandardOutputEncoding = Utf8,
            StandardErrorEncoding = Utf8,
            UseShellExecute = false,
            CreateNoWindow = true,
        };
        info.ArgumentList.Add("--stack-size=4000");
        info.ArgumentList.Add("node.mjs");
        info.Environment.Remove("NODE_OPTIONS");
        return info;
    }

    private void Note(string? line)
    {
        if (!string.IsNullOrWhiteSpace(line))
        {
            lock (_complaints)
            {
                _complaints.AppendLine(line);
            }
        }
    }

    /// <summary>The line that names the error, where there is one, rather than the trace around it.</summary>
    private string Complaint()
    {
        _process!.WaitForExit(TimeSpan.FromSeconds(5));
        lock (_complaints)
        {
            var lines = _complaints.ToString().Split('\n', StringSplitOptions.TrimEntries);
            var error = lines.FirstOrDefault(l => l.Contains("Error", StringComparison.Ordinal));
            return error ?? lines.FirstOrDefault(l => l.Length > 0) ?? "Node ended without a word.";
        }
    }
}
