using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Manual;
using ProtocolKit.Model;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>build FILE -o DIR</c>: every output, or those named by <c>--only</c>.</summary>
internal static class BuildCommand
{
    private static readonly Argument<string> File = new("file") { Description = "The protocol." };

    private static readonly Option<string> Folder = new("--output", "-o")
    {
        Description = "The folder to write into.",
        DefaultValueFactory = _ => "out",
    };

    private static readonly Option<string[]> Only = new("--only")
    {
        Description = $"Kinds of output, by commas: {string.Join(", ", Outputs.All.Select(o => o.Kind))}.",
        CustomParser = result =>
            [.. result.Tokens.SelectMany(t => t.Value.Split(',', StringSplitOptions.RemoveEmptyEntries))],
        AllowMultipleArgumentsPerToken = true,
    };

    private static readonly Option<string?> AgeOption = new("--age")
    {
        Description = "Print what concerns this age only, as in 5;3.",
    };

    private static readonly Option<string> Paper = new("--paper")
    {
        Description = "a4 or letter.",
        DefaultValueFactory = _ => "a4",
    };

    private static readonly Option<bool> ShortForm = new("--short-form")
    {
        Description = "The short form only.",
    };
    private static readonly Option<string?> Language = new("--language")
    {
        Description = "Print the translation into this language that stands beside the protocol, as in de.",
    };
    private static readonly Option<bool> LeftHanded = new("--left-handed")
    {
        Description = "Mirror the record sheet for a left-handed writer.",
    };
    private static readonly Option<bool> ShortEdge = new("--short-edge")
    {
        Description = "Cards turned over the short edge.",
    };
    private static readonly Option<bool> NoPdf = new("--no-pdf")
    {
        Description = "HTML only, even where a browser could print.",
    };

    public static Command Create(Terminal terminal)
    {
        Paper.AcceptOnlyFromAmong("a4", "letter");
        var command = new Command(
            "build",
            "Writes record sheets, cue cards, scoring code and the rest.\n\nExamples:\n"
                + "  protocolkit build library/quillmere/quillmere-screen.protocol -o out\n"
                + "  protocolkit build our-screen.protocol -o out --only record-sheet,cue-cards --paper letter --short-form"
        )
        {
            File,
            Folder,
            Only,
            AgeOption,
            Paper,
            ShortForm,
            Language,
            LeftHanded,
            ShortEdge,
            NoPdf,
        };
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        var only = parsed.GetValue(Only) ?? [];
        var unknown = only.Where(k => Outputs.Find(k) is null).ToList();
        if (unknown.Count > 0)
        {
            terminal.Tell(
                $"There is no output called {string.Join(" or ", unknown)}. There are: {string.Join(", ", Outputs.All.Select(o => o.Kind))}."
            );
            return ExitCode.WrongUse;
        }

        if (!TryOptions(parsed, terminal, out var options))
        {
            return ExitCode.WrongUse;
        }

        var outputs = only.Length == 0 ? Outputs.All : [.. only.Distinct().Select(k => Outputs.Find(k)!)];
        // What is disproved is not built, whatever is asked for.
        var file = ProtocolFile.Open(parsed.GetValue(File)!).Prove().In(parsed.GetValue(Language));
        if (file.Compilation.Protocol is not { } protocol || file.Compilation.HasErrors)
        {
            CheckReport.Findings(file, terminal with { Output = terminal.Messages });
            terminal.Tell($"{file.Source.Name} has errors; nothing was built.");
            return ExitCode.HasErrors;
        }

        if (options.ShortForm && !protocol.HasShortForm)
        {
            terminal.Tell(
                $"{file.Source.Name} has no short form. Leave out --short-form, or add the line short form … min to its header."
            );
            return ExitCode.HasErrors;
        }

        var built = Builder.Build(
            file,
            outputs,
            options,
            parsed.GetValue(Folder)!,
            printPdf: !parsed.GetValue(NoPdf)
        );
        Print(built, parsed.GetValue(Folder)!, terminal);
        return built.Refusals.Count > 0 ? ExitCode.HasErrors : ExitCode.Done;
    }

    private static bool TryOptions(ParseResult parsed, Terminal terminal, out OutputOptions options)
    {
        options = new OutputOptions
        {
            Paper = parsed.GetValue(Paper) == "letter" ? PaperSize.Letter : PaperSize.A4,
            ShortForm = parsed.GetValue(ShortForm),
            LeftHanded = parsed.GetValue(LeftHanded),
            ShortEdge = parsed.GetValue(ShortEdge),
        };
        if (parsed.GetValue(AgeOption) is not { } written)
        {
            return true;
        }

        if (!Age.TryParse(written, out var age))
        {
            terminal.Tell(
                $"{written} isn't an age. Write years;months, as in 5;3 (in quotes in most shells)."
            );
            return false;
        }

        options = options with { Age = age };
        return true;
    }

    private static void Print(BuildResult built, string folder, Terminal terminal)
    {
        var width = built.Files.Select(f => f.Name.Length).DefaultIfEmpty().Max();
        foreach (var (name, purpose) in built.Files)
        {
            terminal.Say($"{name.PadRight(width)}  {purpose}");
        }

        foreach (var message in built.Refusals.Concat(built.Remarks))
        {
            terminal.Tell(message);
        }

        if (built.Files.Count > 0)
        {
            terminal.Say();
            terminal.Say(
                $"{CheckReport.Plural(built.Files.Count, "file")} in {folder}. Look first at {built.Files[0].Name}."
            );
        }
    }
}
