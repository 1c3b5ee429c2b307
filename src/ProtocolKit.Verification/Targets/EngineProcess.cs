using System.ComponentModel;
using System.Diagnostics;
using System.Text;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// An engine in a process of its own that reads a line and answers with a line, its files in a folder that is
/// removed afterwards.
/// </summary>
internal sealed class EngineProcess : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);
    private const int BufferSize = 1 << 18;
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    private readonly StringBuilder _complaints = new();
    private readonly EngineCommand _command;
    private readonly string _folder;
    private readonly Process _process;
    private readonly StreamReader _output;
    private readonly AtExit _folderAtExit;
    private readonly AtExit _processAtExit;
    private bool _isSilent;

    /// <param name="files">Names and texts.</param>
    /// <exception cref="TargetUnavailableException">The program isn't there.</exception>
    public EngineProcess(EngineCommand command, IReadOnlyList<(string Name, string Text)> files)
    {
        _command = command;
        _folderAtExit = AtExit.Of(
            () => Directory.CreateTempSubdirectory("protocolkit-verify-").FullName,
            Leftovers.Remove,
            out _folder
        );
        try
        {
            foreach (var (name, text) in files)
            {
                File.WriteAllText(Path.Combine(_folder, name), text, Utf8);
            }

            _processAtExit = AtExit.Of(
                () => Process.Start(StartInfo()) ?? throw Missing(null),
                ChildProcess.End,
                out _process
            );
        }
        catch (Exception e)
        {
            RemoveFolder();
            throw e is Win32Exception ? Missing(e) : e;
        }

        // Its own reader's buffer is that of a console, and answers are megabytes.
        _output = new StreamReader(_process.StandardOutput.BaseStream, Utf8, bufferSize: BufferSize);
        _process.ErrorDataReceived += (_, line) => Note(line.Data);
        _process.BeginErrorReadLine();
    }

    /// <summary>Where its files are.</summary>
    public string Folder => _folder;

    /// <exception cref="TargetFaultException">It ended or stayed silent; the message is what it complained of.</exception>
    public string Ask(string line)
    {
        if (_isSilent)
        {
            throw Silence();
        }

        try
        {
            _process.StandardInput.WriteLine(line);
            _process.StandardInput.Flush();
        }
        catch (IOException e)
        {
            throw new TargetFaultException(Complaint(), e);
        }

        var answer = _output.ReadLineAsync();
        if (!answer.Wait(Patience))
        {
            _isSilent = true;
            throw Silence();
        }

        return answer.Result ?? throw new TargetFaultException(Complaint());
    }

    public void Dispose()
    {
        try
        {
            _process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It has ended already, and its end of the pipe with it.
        }

        if (!_process.WaitForExit(TimeSpan.FromSeconds(5)))
        {
            ChildProcess.End(_process);
        }

        _processAtExit.Dispose();
        _output.Dispose();
        _process.Dispose();
        RemoveFolder();
    }

    private void RemoveFolder()
    {
        Leftovers.Remove(_folder);
        _folderAtExit.Dispose();
    }

    private TargetFaultException Silence() =>
        new($"{_command.Title} gave no answer within five minutes.") { IsSilence = true };

    private TargetUnavailableException Missing(Exception? inner) =>
        new($"{_command.Title} isn't installed, or not where programs are looked for.", inner!)
        {
            IsMissing = true,
        };

    private ProcessStartInfo StartInfo()
    {
        var info = new ProcessStartInfo(_command.Program)
        {
            WorkingDirectory = _folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardInputEncoding = Utf8,
            StandardOutputEncoding = Utf8,
            StandardErrorEncoding = Utf8,
            UseShellExecute = false,
            CreateNoWindow = true,
        };
        foreach (var argument in _command.Arguments)
        {
            info.ArgumentList.Add(argument);
        }

        foreach (var name in _command.WithoutVariables)
        {
            info.Environment.Remove(name);
        }

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
        _process.WaitForExit(TimeSpan.FromSeconds(5));
        lock (_complaints)
        {
            var lines = _complaints.ToString().Split('\n', StringSplitOptions.TrimEntries);
            var error = lines.FirstOrDefault(l => l.Contains("Error", StringComparison.Ordinal));
            return error
                ?? lines.FirstOrDefault(l => l.Length > 0)
                ?? $"{_command.Title} ended without a word.";
        }
    }
}

/// <param name="Title">Its name in messages, such as <c>Node</c>.</param>
/// <param name="WithoutVariables">Environment variables that could change what it does.</param>
internal sealed record EngineCommand(
    string Title,
    string Program,
    IReadOnlyList<string> Arguments,
    IReadOnlyList<string> WithoutVariables
);
