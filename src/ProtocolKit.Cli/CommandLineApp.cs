using System.CommandLine;
using ProtocolKit.Cli.Commands;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli;

/// <summary>The command line: verbs, help, exit codes. Results go to one writer, everything else to the other.</summary>
public static class CommandLineApp
{
    /// <param name="input">What <c>-</c> reads; the process's standard input where it is left out.</param>
    public static int Run(string[] args, TextWriter output, TextWriter messages, TextReader? input = null) =>
        Run(args, output, messages, input, interruption: null);

    /// <param name="interruption">What ends this process early; null where nothing does.</param>
    internal static int Run(
        string[] args,
        TextWriter output,
        TextWriter messages,
        TextReader? input = null,
        Interruption? interruption = null
    )
    {
        var terminal = new Terminal(output, messages) { Input = input, Interruption = interruption };
        try
        {
            var result = Root(terminal).Parse(args);
            if (result.Errors.Count > 0)
            {
                foreach (var error in result.Errors)
                {
                    messages.WriteLine(error.Message);
                }

                messages.WriteLine("Try: protocolkit --help");
                return ExitCode.WrongUse;
            }

            return result.Invoke(
                new InvocationConfiguration
                {
                    Output = output,
                    Error = messages,
                    EnableDefaultExceptionHandler = false,
                    ProcessTerminationTimeout = null,
                }
            );
        }
        catch (FileProblemException problem)
        {
            messages.WriteLine(problem.Message);
            return ExitCode.HasErrors;
        }
        catch (Exception) when (interruption?.IsEnding == true)
        {
            // It lost what it worked with, as everything is being taken away.
            return interruption.Status;
        }
#pragma warning disable CA1031 // The last place that can turn a fault of ours into words.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            messages.WriteLine("This is a fault of ProtocolKit, not of your files. Nothing was overwritten.");
            messages.WriteLine(
                "Please send us the protocol or record you used, the command, and these lines:"
            );
            messages.WriteLine($"  {fault.GetType().Name}: {fault.Message}");
            messages.WriteLine("  " + (fault.StackTrace ?? "").Split('\n').FirstOrDefault()?.Trim());
            return ExitCode.OurFault;
        }
    }

    private static RootCommand Root(Terminal terminal)
    {
        var root = new RootCommand(
            "Checks, prints and scores screening protocols that clinical teams write in plain text.\n\n"
                + "Begin with:\n  protocolkit new my-screen\n  protocolkit check my-screen/my-screen.protocol"
        );
        root.Add(NewCommand.Create(terminal));
        root.Add(CheckCommand.Create(terminal));
        root.Add(BuildCommand.Create(terminal));
        root.Add(ScoreCommand.Create(terminal));
        root.Add(ReportCommand.Create(terminal));
        root.Add(ReTestCommand.Create(terminal));
        root.Add(StudyCommand.Create(terminal));
        root.Add(VerifyCommand.Create(terminal));
        root.Add(WorksheetCommand.Create(terminal));
        root.Add(FormatCommand.Create(terminal));
        root.Add(CompareCommand.Create(terminal));
        root.Add(ExplainCommand.Create(terminal));
        return root;
    }
}
